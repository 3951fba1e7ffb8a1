/** The options of `batch` and `merge`, and the plans they make. */
import { Command } from 'commander';
import { UsageError } from '../errors.js';
import type { HandSize } from '../hand/types.js';
import type { NameSystem } from '../theory/name-systems.js';
import { addGroup, asWritten, flag, taking } from './command.js';
import { addExamples, type Example } from './help-layout.js';
import {
  type GivenHearing,
  HEARING_HEADING,
  type HearingPlan,
  hearingPlanOf,
  musicOptions,
  wholeHearingOptions,
} from './melody-options.js';
import { namesOption } from './names-option.js';
import { parsePath, parseWhole } from './values.js';

/** How every song of a batch is heard and written: what a worker is told, and what makes its results others. */
export interface BatchJobOptions {
  readonly hearing: HearingPlan;
  readonly hand: HandSize;
  readonly names: NameSystem;
}

export interface BatchPlan {
  readonly folders: readonly string[];
  readonly out: string;
  readonly job: BatchJobOptions;
  /** Processes; null: one for each processor. */
  readonly workers: number | null;
  readonly again: boolean;
  /** As written, `2/8` or `auto/8`; null for all. */
  readonly part: string | null;
  readonly json: boolean;
  readonly quiet: boolean;
}

export interface MergePlan {
  readonly folders: readonly string[];
  /** Where the joined summary is written; null: it is printed only. */
  readonly out: string | null;
  readonly json: boolean;
  readonly force: boolean;
  readonly quiet: boolean;
}

interface Given extends Omit<GivenHearing, 'from' | 'to'> {
  readonly out?: string;
  readonly hand?: HandSize;
  readonly names?: NameSystem;
  readonly workers?: number;
  readonly again?: true;
  readonly part?: string;
  readonly json?: true;
  readonly quiet?: true;
}

interface GivenMerge {
  readonly out?: string;
  readonly json?: true;
  readonly force?: true;
  readonly quiet?: true;
}

const MOST_WORKERS = 256;

const BATCH_EXAMPLES: readonly Example[] = [
  [
    'cantilena batch songs --out heard',
    'every recording under songs; run it again to go on where it was stopped',
  ],
  ['cantilena batch songs --out heard --part 2/8', "the second of eight machines' share"],
  ['cantilena merge heard --out heard', "the parts' summaries joined into one"],
];

const MERGE_EXAMPLES: readonly Example[] = [
  ['cantilena merge heard --out heard', 'the summaries of all parts that lie in one folder'],
  ['cantilena merge one two three --out .', 'those of three machines; the page links to their sheets'],
];

export function batchCommand(done: (plan: BatchPlan) => void): Command {
  const command = new Command('batch')
    .description(
      'Does all that notes does for every recording in folders, and lists the songs easiest first.',
    )
    .usage('<folder...> --out <folder> [options]')
    .argument('[folder...]', 'folders, looked through however deep')
    .helpOption('-h, --help', 'print this')
    .action((folders: string[], given: Given) => done(batchPlanFrom(folders, given)));
  addGroup(command, 'What is written:', [
    taking('--out <folder>', 'a folder a song, laid out like the input, and a summary', parsePath),
    namesOption(),
    flag('--json', 'print the summary as JSON'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  addGroup(command, 'How the work is done:', [
    taking(
      '--workers <number>',
      'songs heard at a time (default: one for each processor)',
      parseWhole(1, MOST_WORKERS, '4'),
    ),
    flag('--again', 'hear also what was heard before and has not changed'),
    taking('--part <part>', 'only a part of the songs, 2/8; auto/8 in an array job', asWritten),
  ]);
  addGroup(command, HEARING_HEADING, wholeHearingOptions());
  addGroup(
    command,
    'What is known of the music:',
    musicOptions().filter(({ long }) => long === '--hand'),
  );
  return addExamples(command, BATCH_EXAMPLES);
}

export function mergeCommand(done: (plan: MergePlan) => void): Command {
  const command = new Command('merge')
    .description('Joins the summaries of batches that ran in parts or on several machines.')
    .usage('<folder...> [options]')
    .argument('[folder...]', 'folders that batch has written')
    .helpOption('-h, --help', 'print this')
    .action((folders: string[], given: GivenMerge) => done(mergePlanFrom(folders, given)));
  addGroup(command, 'What is written:', [
    taking('--out <folder>', 'write summary.json, summary.txt and index.html there', parsePath),
    flag('--force', 'write over a summary that is there'),
    flag('--json', 'print the summary as JSON'),
    flag('--quiet', 'say nothing but errors'),
  ]);
  return addExamples(command, MERGE_EXAMPLES);
}

function namedFolders(example: string, folders: readonly string[]): readonly string[] {
  if (folders.length === 0) {
    throw new UsageError(`there is no folder: name one, as in cantilena ${example} --out heard.`);
  }
  if (folders.includes('')) throw new UsageError('the name of a folder is empty: name one.');
  return folders;
}

function batchPlanFrom(folders: readonly string[], given: Given): BatchPlan {
  const { out, hand, names, workers, again, part, json, quiet, source, lowest, highest } = given;
  const named = namedFolders('batch songs', folders);
  if (out === undefined) {
    throw new UsageError('there is no folder for the results: name one, as in --out heard.');
  }
  return {
    folders: named,
    out,
    job: {
      hearing: hearingPlanOf({ source, lowest, highest }),
      hand: hand ?? 'medium',
      names: names ?? 'english',
    },
    workers: workers ?? null,
    again: again ?? false,
    part: part ?? null,
    json: json ?? false,
    quiet: quiet ?? false,
  };
}

function mergePlanFrom(folders: readonly string[], { out, json, force, quiet }: GivenMerge): MergePlan {
  if (force && out === undefined) {
    throw new UsageError('--force does nothing without a summary to write: give --out too.');
  }
  return {
    folders: namedFolders('merge heard', folders),
    out: out ?? null,
    json: json ?? false,
    force: force ?? false,
    quiet: quiet ?? false,
  };
}
