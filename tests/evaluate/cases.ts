/** Finds the recordings with known answers in a folder; the only file here that reads the disk. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { MelodyReference } from './melody-scores.js';
import type { ScoredNote } from './note-scores.js';
import { readNoteLines, readNoteRows, readPitchRows, readRenderedTruth } from './truth.js';

export const GROUPS = ['ssvd', 'vocadito', 'sung', 'piano', 'mix'] as const;
export type Group = (typeof GROUPS)[number];

/** One recording and what is known of it. */
export interface Case {
  readonly group: Group;
  readonly name: string;
  readonly path: string;
  /** Which half of its group it belongs to; null where the group is not halved. */
  readonly half: 'a' | 'b' | null;
  /** The notes, as each annotator wrote them down; the label is empty where there is one. */
  readonly readings: readonly {
    readonly label: string;
    readonly notes: readonly ScoredNote[];
  }[];
  readonly melody: MelodyReference | null;
}

/** What to leave out. */
export interface Choice {
  readonly groups: readonly Group[];
  readonly half: 'a' | 'b' | null;
  /** Part of the recording's name, or the empty string. */
  readonly name: string;
}

interface Part {
  readonly folder: string;
  readonly groups: readonly Group[];
  readonly read: (folder: string) => Case[];
}

function text(path: string): string {
  return readFileSync(path, 'utf8');
}

function names(folder: string, ending: string): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => basename(name, ending));
}

/**
 * Sight-singing: `ID.flac` with `ID.txt`. Half a is the first half in order of name (the longer one of an odd
 * number), half b the rest: what was tuned on half a can be checked on half b. The halves are not taken by
 * turns, because neighbouring IDs are likely the same singer, who must not be on both sides.
 */
function readSightSinging(folder: string): Case[] {
  return names(folder, '.flac').map((name, index, all) => ({
    group: 'ssvd',
    name,
    path: join(folder, `${name}.flac`),
    half: index < Math.ceil(all.length / 2) ? 'a' : 'b',
    readings: [
      {
        label: '',
        notes: readNoteLines(text(join(folder, `${name}.txt`)), `${name}.txt`),
      },
    ],
    melody: null,
  }));
}

/** Solo voices with two annotators: `NAME.wav`, `NAME_notesA1.csv`, `NAME_notesA2.csv`, `NAME_f0.csv`. */
function readTwoAnnotators(folder: string): Case[] {
  return names(folder, '.wav').map((name) => ({
    group: 'vocadito',
    name,
    path: join(folder, `${name}.wav`),
    half: null,
    readings: ['A1', 'A2'].map((label) => ({
      label,
      notes: readNoteRows(text(join(folder, `${name}_notes${label}.csv`)), `${name}_notes${label}.csv`),
    })),
    melody: readPitchRows(text(join(folder, `${name}_f0.csv`)), `${name}_f0.csv`),
  }));
}

/** Rendered cases: `sung-NAME.flac`, `piano-NAME.flac`, `mix-NAME.flac`, each with `.truth.json`. */
function readRendered(folder: string): Case[] {
  return names(folder, '.flac').flatMap((name) => {
    const group = GROUPS.find((g) => name.startsWith(`${g}-`));
    if (!group) return [];
    const truth = readRenderedTruth(text(join(folder, `${name}.truth.json`)), `${name}.truth.json`);
    return [
      {
        group,
        name,
        path: join(folder, `${name}.flac`),
        half: null,
        readings: [{ label: '', notes: truth.notes }],
        melody: truth.melody,
      },
    ];
  });
}

const PARTS: readonly Part[] = [
  { folder: 'singing/ssvd', groups: ['ssvd'], read: readSightSinging },
  { folder: 'singing/vocadito', groups: ['vocadito'], read: readTwoAnnotators },
  { folder: 'made', groups: ['sung', 'piano', 'mix'], read: readRendered },
];

/** The groups that a word of `--only` names: a group, or a folder that holds groups. */
export function groupsNamed(word: string): readonly Group[] {
  return PARTS.flatMap((part) =>
    part.groups.filter(
      (group) => group === word || part.folder === word || part.folder.startsWith(`${word}/`),
    ),
  );
}

/** The cases of a folder that are wanted, and the parts of it that are wanted and absent. */
export function findCases(root: string, choice: Choice): { cases: Case[]; absent: string[] } {
  const wanted = PARTS.filter((part) => part.groups.some((g) => choice.groups.includes(g)));
  const present = wanted.filter((part) => existsSync(join(root, part.folder)));
  const cases = present
    .flatMap((part) => part.read(join(root, part.folder)))
    .filter((c) => choice.groups.includes(c.group))
    .filter((c) => choice.half === null || c.half === null || c.half === choice.half)
    .filter((c) => c.name.includes(choice.name));
  return {
    cases,
    absent: wanted.filter((part) => !present.includes(part)).map((part) => part.folder),
  };
}
