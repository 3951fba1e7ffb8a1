/** The options of `guide`, and the plan they make. */
import { extname } from 'node:path';
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import type { Selection } from '../practice/guide/select.js';
import type { GuideFormat } from '../practice/guide/sound.js';
import type { GuideRequest } from '../practice/guide/types.js';
import { addGroup, flag, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import { oneInput } from './inputs.js';
import {
  type GivenHearing,
  type GivenMusic,
  HAND_OPTIONS,
  HEARING_HEADING,
  hearingOptions,
  hearingPlanOf,
  INPUT_KINDS,
  type MelodyPlan,
  MUSIC_HEADING,
  musicOptions,
  musicPlanOf,
} from './melody-options.js';
import { parsePath, parseWhole, wrongValue } from './values.js';

/** `guide`, as asked for. */
export interface GuideCommandPlan extends MelodyPlan {
  readonly output: string;
  readonly format: GuideFormat;
  readonly force: boolean;
  readonly quiet: boolean;
  readonly request: GuideRequest;
  readonly selection: Selection;
}

interface Given extends GivenHearing, GivenMusic {
  readonly output?: string;
  readonly force?: true;
  readonly quiet?: true;
  readonly speed?: number;
  readonly line?: { readonly first: number; readonly last: number };
  readonly repeat?: number;
  readonly countIn?: true;
  readonly drone?: true;
  readonly beside?: true;
  readonly callAndResponse?: true;
}

/** Slower, a stretched voice falls apart into its periods, and a piano note has died away; faster, nobody practises. */
const SLOWEST = 0.25;
const FASTEST = 2;
const MOST_REPEATS = 99;

const EXAMPLES: readonly Example[] = [
  ['cantilena guide song.m4a -o song.wav', 'the melody on a piano'],
  [
    'cantilena guide song.m4a -o line3.wav --line 3 --speed 0.5 --repeat 4 --count-in',
    'one line, half as fast, four times, each counted in',
  ],
  [
    'cantilena guide song.m4a -o both.wav --beside --speed 0.7',
    'the recording in the left ear, slowed without changing its pitch, the piano in the right',
  ],
  [
    'cantilena guide song.notes -o answer.wav --call-and-response --drone',
    'line by line, each with its first note before it and a silence to answer in',
  ],
];

/** The command; `done` is called with the plan once the arguments are read. */
export function guideCommand(done: (plan: GuideCommandPlan) => void): Command {
  const command = new Command('guide')
    .description('Plays the melody on a piano, into a sound file to practise with.')
    .usage('<input> -o <file> [options]')
    .argument('[input...]', INPUT_KINDS)
    .helpOption('-h, --help', 'print this')
    .action((inputs: string[], given: Given) => done(planFrom(inputs, given)));
  addGroup(command, 'What is written:', [
    taking('-o, --output <file>', 'the sound file, NAME.wav or NAME.mp3', parsePath),
    flag('--force', 'write over a file that is there'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  addGroup(command, 'What is played:', [
    taking('--line <number>', 'a line, 3, or lines, 3-5 (default: all)', parseLines),
    taking('--speed <number>', 'half as fast is 0.5; the pitch stays (default: 1)', parseSpeed),
    taking('--repeat <number>', 'how often (default: 1)', parseWhole(1, MOST_REPEATS, '4')),
    flag('--count-in', 'a bar of clicks before each time'),
    flag('--drone', 'the first note, held, before each time'),
    flag('--beside', 'the recording in the left ear, the piano in the right'),
    flag('--call-and-response', 'line by line, after each a silence as long to answer in'),
  ]);
  addGroup(command, HEARING_HEADING, hearingOptions());
  // Key and hand change nothing of what is played.
  const music = musicOptions().filter(({ long }) => long !== '--key' && !HAND_OPTIONS.includes(long));
  addGroup(command, MUSIC_HEADING, music);
  return addExamples(command, EXAMPLES);
}

function planFrom(inputs: readonly string[], given: Given): GuideCommandPlan {
  const input = oneInput('guide', inputs, ' -o song.wav');
  const { output, line } = given;
  if (output === undefined) {
    throw new UsageError(`there is no file to write: name one, as in cantilena guide ${input} -o guide.wav.`);
  }
  const ending = extname(output).slice(1).toLowerCase();
  const format = (['wav', 'mp3'] as const).find((known) => known === ending);
  if (format === undefined) {
    throw new UsageError(
      `${output} cannot be written: guides are WAV or MP3 files, so end its name in .wav or .mp3.`,
    );
  }
  if (line !== undefined && (given.from ?? given.to) !== undefined) {
    throw new UsageError('--line and --from or --to exclude each other: choose the part by one of them.');
  }
  const hearing = hearingPlanOf(given);
  return {
    input,
    output,
    format,
    force: given.force ?? false,
    quiet: given.quiet ?? false,
    hearing,
    music: musicPlanOf(given),
    selection: { lines: line ?? null, from: hearing.from, to: hearing.to },
    request: {
      speed: given.speed ?? 1,
      repeat: given.repeat ?? 1,
      countIn: given.countIn ?? false,
      drone: given.drone ?? false,
      beside: given.beside ?? false,
      callAndResponse: given.callAndResponse ?? false,
    },
  };
}

function parseLines(option: string, text: string): { first: number; last: number } {
  const [, from, to = from] = /^(\d{1,5})(?:-(\d{1,5}))?$/.exec(text) ?? [];
  const [first, last] = [Number(from), Number(to)];
  if (!(first >= 1 && last >= first)) {
    throw wrongValue(option, text, 'the number of a line, or of the first and last of some', '3-5');
  }
  return { first, last };
}

function parseSpeed(option: string, text: string): number {
  const speed = /^(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : Number.NaN;
  if (!(speed >= SLOWEST && speed <= FASTEST)) {
    throw wrongValue(
      option,
      text,
      `a speed from ${SLOWEST} to ${FASTEST}, 1 being that of the melody`,
      '0.5',
    );
  }
  return speed;
}
