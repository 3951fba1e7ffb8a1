/** The options of `transpose`, and the plan they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import { addGroup, asWritten, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import { oneInput } from './inputs.js';
import {
  type GivenHearing,
  type GivenMusic,
  HEARING_HEADING,
  hearingPlanOf,
  INPUT_KINDS,
  type MelodyPlan,
  MUSIC_HEADING,
  musicOptions,
  musicPlanOf,
  wholeHearingOptions,
} from './melody-options.js';
import { parseWhole, wrongValue } from './values.js';
import {
  type GivenWriting,
  WRITING_HEADING,
  type WritingPlan,
  writingOptions,
  writingPlanOf,
} from './writing-options.js';

/** Where the melody is to go: keys by name, an interval, or a number of keys for practice. Read by moves.ts. */
export type Destination =
  | { readonly kind: 'keys'; readonly names: readonly string[] }
  | { readonly kind: 'interval'; readonly text: string }
  | { readonly kind: 'plan'; readonly count: number };

export interface TransposePlan extends MelodyPlan, WritingPlan {
  readonly destination: Destination;
  /** Note names, lowest and highest; null where nothing was said. */
  readonly within: readonly [string, string] | null;
}

interface Given extends Omit<GivenHearing, 'from' | 'to'>, GivenMusic, GivenWriting {
  /** Keys by name. */
  readonly to?: readonly string[];
  readonly by?: string;
  readonly plan?: number;
  readonly within?: readonly string[];
}

const EXAMPLES: readonly Example[] = [
  ['cantilena transpose song.notes --to Bb', 'the melody in B flat, fingers worked out anew'],
  ['cantilena transpose song.m4a --by -m3 --midi lower.mid', 'a minor third lower, as MIDI too'],
  ['cantilena transpose song.notes --to F,Bb,Eb --out practice', 'one set of files a key'],
  [
    'cantilena transpose song.notes --plan 5 --within C4 C6 --out practice',
    'five keys, one sharp or flat more at a time',
  ],
];

const FEWEST_KEYS = 2;
const MOST_KEYS = 12;

export function transposeCommand(done: (plan: TransposePlan) => void): Command {
  const command = new Command('transpose')
    .description('Moves a melody to other keys; its fingering is worked out anew.')
    .usage('<input> (--to <keys> | --by <interval> | --plan <number>) [options]')
    .argument('[input...]', INPUT_KINDS)
    .helpOption('-h, --help', 'print this')
    .action((inputs: string[], given: Given) => done(planFrom(inputs, given)));
  addGroup(command, 'Where to:', [
    taking('--to <keys>', 'tonics, with commas: G or F,Bb,Eb; the mode stays', parseKeys),
    taking('--by <interval>', 'an interval: m3, -M2, P8, or semitones: 3, -2', parseInterval),
    taking(
      '--plan <number>',
      'that many keys (2 to 12), one sharp or flat more at a time',
      parseWhole(FEWEST_KEYS, MOST_KEYS, '5'),
    ),
    taking(
      '--within <notes...>',
      'lowest and highest note, C4 C6: the octave that fits is taken',
      asWritten,
    ).argParser((text: string, before: readonly string[] = []) => [...before, text]),
  ]);
  addGroup(command, WRITING_HEADING, writingOptions());
  addGroup(command, HEARING_HEADING, wholeHearingOptions());
  addGroup(command, MUSIC_HEADING, musicOptions());
  return addExamples(command, EXAMPLES);
}

function parseKeys(option: string, text: string): string[] {
  const names = text.split(',').map((name) => name.trim());
  if (names.some((name) => name === ''))
    throw wrongValue(option, text, 'keys with commas between them', 'F,Bb,Eb');
  const twice = names.find((name, i) => names.indexOf(name) < i);
  if (twice !== undefined) throw new UsageError(`${option} names ${twice} twice: name each key once.`);
  return names;
}

function parseInterval(option: string, text: string): string {
  if (text.trim() === '') throw wrongValue(option, text, 'an interval or semitones', 'm3');
  return text;
}

function planFrom(inputs: readonly string[], given: Given): TransposePlan {
  // What follows the two notes of --within was not meant for it.
  const [low, high, ...rest] = given.within ?? [];
  if (low !== undefined && high === undefined) {
    throw new UsageError(
      '--within takes two notes, the lowest and the highest: write it as in --within C4 C6.',
    );
  }
  const plan: TransposePlan = {
    input: oneInput('transpose', [...inputs, ...rest], ' --to G'),
    ...writingPlanOf(given),
    hearing: hearingPlanOf({ source: given.source, lowest: given.lowest, highest: given.highest }),
    music: musicPlanOf(given),
    destination: destinationOf(given),
    within: low === undefined ? null : [low, high!],
  };
  checkSeveral(plan);
  return plan;
}

function destinationOf({ to, by, plan }: Given): Destination {
  const destinations: Destination[] = [];
  if (to !== undefined) destinations.push({ kind: 'keys', names: to });
  if (by !== undefined) destinations.push({ kind: 'interval', text: by });
  if (plan !== undefined) destinations.push({ kind: 'plan', count: plan });
  const [first, second] = destinations;
  if (first === undefined) {
    throw new UsageError('nothing says where to: give --to with a key, --by with an interval, or --plan.');
  }
  if (second !== undefined) throw new UsageError('--to, --by and --plan exclude each other: choose one.');
  return first;
}

/** Whether more than one key comes out. */
export function isSeveral(destination: Destination): boolean {
  return destination.kind === 'plan' || (destination.kind === 'keys' && destination.names.length > 1);
}

/** @throws UsageError for several keys where only one can be written */
function checkSeveral({ destination, outFolder, midi, musicXml, print }: TransposePlan): void {
  if (!isSeveral(destination)) return;
  if (midi !== null || musicXml !== null) {
    throw new UsageError(
      `--${midi === null ? 'musicxml' : 'midi'} names one file, and several keys are asked for: give --out in its place.`,
    );
  }
  if (outFolder === null) {
    throw new UsageError('several keys make several files: give --out with a folder for them.');
  }
  if (print === 'list')
    throw new UsageError('--list prints one list, and several keys are asked for: leave it out.');
}
