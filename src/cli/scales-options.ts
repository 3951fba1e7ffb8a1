/** The options of `scales`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import type { NameSystem } from '../theory/name-systems.js';
import { addGroup, flag, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import {
  type GivenHearing,
  type GivenMusic,
  HAND_OPTIONS,
  HEARING_HEADING,
  type HearingPlan,
  hearingOptions,
  hearingPlanOf,
  INPUT_KINDS,
  MUSIC_HEADING,
  type MusicPlan,
  musicOptions,
  musicPlanOf,
} from './melody-options.js';
import { namesOption } from './names-option.js';
import { parseWhole } from './values.js';

/** `scales`, as asked for. */
export interface ScalesPlan {
  /** Names of notes, or one input: what they are is told once the tables of names are loaded. */
  readonly words: readonly string[];
  readonly json: boolean;
  readonly quiet: boolean;
  /** How many scales are printed. */
  readonly top: number;
  /** Null: not said, English. */
  readonly names: NameSystem | null;
  readonly hearing: HearingPlan;
  readonly music: MusicPlan;
}

interface Given extends GivenHearing, GivenMusic {
  readonly json?: true;
  readonly quiet?: true;
  readonly top?: number;
  readonly names?: NameSystem;
}

const USUAL_TOP = 5;
/** All that are ranked: twelve tonics of twelve modes. */
const MOST = 144;

const EXAMPLES: readonly Example[] = [
  ['cantilena scales F G A C D', 'the scales that hold these notes'],
  ['cantilena scales song.txt', 'the scales of a melody, and where to listen to decide'],
  ['cantilena scales song.m4a --top 3 --names solfege', 'of a recording, three of them, with fixed do'],
];

export function scalesCommand(done: (plan: ScalesPlan) => void): Command {
  const command = new Command('scales')
    .description('Ranks the scales that hold the notes of a melody, and says what would decide between them.')
    .usage('<input | note names...> [options]')
    .argument('[what...]', `names of notes; or a ${INPUT_KINDS}`)
    .helpOption('-h, --help', 'print this')
    .action((words: string[], given: Given) => done(planFrom(words, given)));
  addGroup(command, 'What is written:', [
    taking(
      '-n, --top <number>',
      `how many scales are printed (default ${USUAL_TOP})`,
      parseWhole(1, MOST, '3'),
    ),
    namesOption(),
    flag('--json', 'print the scales as JSON'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  addGroup(command, HEARING_HEADING, hearingOptions());
  // Scales need no fingers.
  addGroup(
    command,
    MUSIC_HEADING,
    musicOptions().filter(({ long }) => !HAND_OPTIONS.includes(long)),
  );
  return addExamples(command, EXAMPLES);
}

function planFrom(words: readonly string[], given: Given): ScalesPlan {
  const { json, quiet, top, names } = given;
  if (words.every((word) => word.trim() === '')) {
    throw new UsageError(
      'there is nothing to find scales for: name notes, as in cantilena scales F G A C D, or a recording.',
    );
  }
  return {
    words,
    json: json ?? false,
    quiet: quiet ?? false,
    top: top ?? USUAL_TOP,
    names: names ?? null,
    hearing: hearingPlanOf(given),
    music: musicPlanOf(given),
  };
}
