/** The options of `listen`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import { addGroup, asWritten, flag, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import { parseLine, parseWhole, wrongValue } from './values.js';

export interface ListenPlan {
  /** Where the sound comes from: standard input, or the system's recorder. */
  readonly from: 'standard input' | 'recorder';
  /** Bare 16-bit samples on standard input; null for WAV. */
  readonly raw: { readonly sampleRate: number; readonly channels: number } | null;
  /** Path of the melody to follow; null: only say what is heard. */
  readonly target: string | null;
  /** Number of the line to follow, from 1; null for all of them. */
  readonly line: number | null;
  readonly sameOctave: boolean;
  readonly json: boolean;
  readonly quiet: boolean;
  /** A note name or a frequency, read by pitch-values.ts. */
  readonly lowest: string | null;
  readonly highest: string | null;
}

interface Given {
  readonly raw?: number;
  readonly channels?: number;
  readonly target?: string;
  readonly line?: number;
  readonly sameOctave?: true;
  readonly json?: true;
  readonly quiet?: true;
  readonly lowest?: string;
  readonly highest?: string;
}

const EXAMPLES: readonly Example[] = [
  ['cantilena listen', 'the key nearest to what is hummed, and how sharp or flat'],
  [
    'cantilena listen --target song.notes --line 2',
    'the notes of a line, one after the other: higher, lower, right',
  ],
  [
    'arecord -q -f S16_LE -r 16000 | cantilena listen - --json',
    'sound from another program; one JSON object an event',
  ],
];

const LOWEST_RATE = 8000;
const HIGHEST_RATE = 192_000;
const MOST_CHANNELS = 8;

export function listenCommand(done: (plan: ListenPlan) => void): Command {
  const command = new Command('listen')
    .description('Says, while you hum or play, which key it is and which way to move.')
    .usage('[-] [options]')
    .argument('[input...]', "- takes WAV from standard input; without it the system's recorder is started")
    .helpOption('-h, --help', 'print this')
    .action((inputs: string[], given: Given) => done(planFrom(inputs, given)));
  addGroup(command, 'A line to follow:', [
    taking('--target <input>', 'melody to follow: note list, JSON, MIDI or recording', asWritten),
    taking('--line <number>', 'only this line of it', parseLine),
    flag('--same-octave', 'notes count in their own octave only (default: in any)'),
  ]);
  addGroup(command, 'The sound:', [
    taking(
      '--raw <rate>',
      'standard input is bare 16-bit samples, so many a second',
      parseWhole(LOWEST_RATE, HIGHEST_RATE, '16000'),
    ),
    taking('--channels <number>', 'channels of those samples (default 1)', parseWhole(1, MOST_CHANNELS)),
    taking('--lowest <note>', 'lowest note to expect, E2 or 82Hz (default 55Hz)', asWritten),
    taking('--highest <note>', 'highest note to expect (default 1500Hz)', asWritten),
  ]);
  addGroup(command, 'What is printed:', [
    flag('--json', 'one JSON object an event also on a terminal'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  return addExamples(command, EXAMPLES);
}

function planFrom(inputs: readonly string[], given: Given): ListenPlan {
  const [input] = inputs;
  if (inputs.length > 1 || (input !== undefined && input !== '-')) {
    throw new UsageError(
      `listen hears what sounds now, not ${input}: give - for standard input or nothing for the recorder; a file is heard by cantilena notes.`,
    );
  }
  const { raw, channels, target, line } = given;
  if (input === undefined && raw !== undefined) {
    throw new UsageError('--raw tells what standard input holds: give - too.');
  }
  if (channels !== undefined && raw === undefined) {
    throw new UsageError('--channels is for bare samples: give --raw too.');
  }
  if (target === undefined && (line !== undefined || given.sameOctave)) {
    throw new UsageError(
      `--${line === undefined ? 'same-octave' : 'line'} needs a melody to follow: give --target too.`,
    );
  }
  if (target === '-') {
    throw wrongValue('--target', target, 'a file, since standard input is the sound', 'song.notes');
  }
  return {
    from: input === undefined ? 'recorder' : 'standard input',
    raw: raw === undefined ? null : { sampleRate: raw, channels: channels ?? 1 },
    target: target ?? null,
    line: line ?? null,
    sameOctave: given.sameOctave ?? false,
    json: given.json ?? false,
    quiet: given.quiet ?? false,
    lowest: given.lowest ?? null,
    highest: given.highest ?? null,
  };
}
