/** The options of every command that writes a melody: what is printed, and which files. */
import type { Option } from 'commander';
import { UsageError } from '../errors.js';
import type { NameSystem } from '../theory/name-systems.js';
import { flag, taking } from './command.js';
import { namesOption } from './names-option.js';
import { parsePath } from './values.js';

/** What is written; null where nothing was said. */
export interface WritingPlan {
  /** `fitting`: laid out on a terminal, the list elsewhere. */
  readonly print: 'fitting' | 'list' | 'json';
  readonly midi: string | null;
  readonly musicXml: string | null;
  readonly outFolder: string | null;
  /** In which system notes are named, on the screen, in the list and in the score's words. */
  readonly names: NameSystem;
  readonly force: boolean;
  readonly quiet: boolean;
}

/** The options as the parser gives them. */
export interface GivenWriting {
  readonly json?: true;
  readonly list?: true;
  readonly midi?: string;
  readonly musicxml?: string;
  readonly out?: string;
  readonly names?: NameSystem;
  readonly force?: true;
  readonly quiet?: true;
}

export const WRITING_HEADING = 'What is written:';

/** @param own options of the command's own for further files, put before `--out`, which writes all of them */
export function writingOptions(own: readonly Option[] = []): Option[] {
  return [
    flag('--json', 'print the melody as JSON in place of the list'),
    flag('--list', 'print the note list also on a terminal'),
    taking('--midi <file>', 'write a MIDI file', parsePath),
    taking('--musicxml <file>', 'write the score as MusicXML', parsePath),
    ...own,
    taking('--out <folder>', 'write all of these into a folder', parsePath),
    namesOption(),
    flag('--force', 'write over files that are there'),
    flag('--quiet', 'say nothing but errors'),
  ];
}

/**
 * @param ownFiles files of the command's own that are asked for
 * @throws UsageError for options that contradict each other or would do nothing
 */
export function writingPlanOf(
  { json, list, force, midi, musicxml, out, names, quiet }: GivenWriting,
  ownFiles: readonly (string | undefined)[] = [],
): WritingPlan {
  if (json && list) throw new UsageError('--json and --list exclude each other: choose one to be printed.');
  if (json && names !== undefined && (musicxml ?? out) === undefined) {
    throw new UsageError('JSON always has English names: leave --names out.');
  }
  if (force && [midi, musicxml, out, ...ownFiles].every((file) => file === undefined)) {
    throw new UsageError(
      '--force does nothing without a file to write: give --midi, --musicxml or --out too.',
    );
  }
  return {
    print: json ? 'json' : list ? 'list' : 'fitting',
    midi: midi ?? null,
    musicXml: musicxml ?? null,
    outFolder: out ?? null,
    names: names ?? 'english',
    force: force ?? false,
    quiet: quiet ?? false,
  };
}
