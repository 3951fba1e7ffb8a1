/** The options of `grade`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import { addGroup, flag } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import { checkNamed } from './inputs.js';
import {
  type GivenHearing,
  type GivenMusic,
  HEARING_HEADING,
  type HearingPlan,
  hearingOptions,
  hearingPlanOf,
  MUSIC_HEADING,
  type MusicPlan,
  musicOptions,
  musicPlanOf,
} from './melody-options.js';

/** `grade`, as asked for. */
export interface GradePlan {
  /** Paths, `-` for standard input at most once. */
  readonly inputs: readonly string[];
  readonly json: boolean;
  readonly quiet: boolean;
  readonly hearing: HearingPlan;
  readonly music: MusicPlan;
}

interface Given extends GivenHearing, GivenMusic {
  readonly json?: true;
  readonly quiet?: true;
}

/** Those that change no grade. */
const UNUSED: readonly (string | undefined)[] = ['--key', '--from-finger'];
/** Those that are true of one song only. */
const OF_ONE_SONG = ['from', 'to', 'bpm', 'meter', 'downbeat'] as const;

const EXAMPLES: readonly Example[] = [
  ['cantilena grade song.m4a', 'how hard it is, and why'],
  ['cantilena grade *.notes songs/*.mp3', 'which of them to begin with, and in what order to go on'],
  ['cantilena grade *.notes --json', 'the same for other programs'],
];

export function gradeCommand(done: (plan: GradePlan) => void): Command {
  const command = new Command('grade')
    .description(
      'Says how hard a melody is for the right hand of a beginner, 1 to 10, and why; sorts several, the easiest first.',
    )
    .usage('<input...> [options]')
    .argument('[input...]', 'recordings, note lists, melodies as JSON, or MIDI files; - is standard input')
    .helpOption('-h, --help', 'print this')
    .action((inputs: string[], given: Given) => done(planFrom(inputs, given)));
  addGroup(command, 'What is written:', [
    flag('--json', 'print the grades as JSON'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  addGroup(command, HEARING_HEADING, hearingOptions());
  addGroup(
    command,
    MUSIC_HEADING,
    musicOptions().filter(({ long }) => !UNUSED.includes(long)),
  );
  return addExamples(command, EXAMPLES);
}

function planFrom(inputs: readonly string[], given: Given): GradePlan {
  if (inputs.length === 0) {
    throw new UsageError('there is no input: name one or more, as in cantilena grade song.m4a tune.txt.');
  }
  for (const input of inputs) checkNamed(input);
  if (inputs.filter((input) => input === '-').length > 1) {
    throw new UsageError('only one input can come from standard input: name files for the others.');
  }
  const one = OF_ONE_SONG.find((option) => given[option] !== undefined);
  if (inputs.length > 1 && one !== undefined) {
    throw new UsageError(
      `--${one} is true of one song, and ${inputs.length} inputs were given: grade that one alone, or leave the option out.`,
    );
  }
  return {
    inputs,
    json: given.json ?? false,
    quiet: given.quiet ?? false,
    hearing: hearingPlanOf(given),
    music: musicPlanOf(given),
  };
}
