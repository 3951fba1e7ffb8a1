/** Finds the recordings with known answers in a folder; the only file here that reads the disk. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Source } from '../../src/pitch/types.js';
import type { VoiceLevel } from './karaoke.js';
import type { MelodyReference } from './melody-scores.js';
import type { ScoredNote } from './note-scores.js';
import { readNoteLines, readNoteRows, readPitchLines, readPitchRows, readRenderedTruth } from './truth.js';

export const GROUPS = ['ssvd', 'vocadito', 'sung', 'piano', 'mix', 'mir1k'] as const;
export type Group = (typeof GROUPS)[number];
/** What is evaluated where nothing is named: all but the karaoke clips, which are many. */
export const DEFAULT_GROUPS = GROUPS.filter((group) => group !== 'mir1k');

/** One recording and what is known of it. */
export interface Case {
  readonly group: Group;
  readonly name: string;
  readonly path: string;
  /** What it is. */
  readonly source: Source;
  /** For a karaoke clip, how its two channels are put together; null: it is heard as it is. */
  readonly voiceLevel: VoiceLevel | null;
  /** Which of FOLDS parts of its group it is in, from 1; null where the group is not parted. */
  readonly fold: number | null;
  /** Which half of its group it belongs to; null where the group is not halved. */
  readonly half: 'a' | 'b' | null;
  /** The notes, as each annotator wrote them down; the label is empty where there is one. None: no notes known. */
  readonly readings: readonly {
    readonly label: string;
    readonly notes: readonly ScoredNote[];
  }[];
  readonly melody: MelodyReference | null;
}

/** Parts of the sight-singing, by turns in order of name: `train_solo.py --fold K/5` leaves out part K. */
export const FOLDS = 5;

/** Which karaoke clips, and how. */
export interface KaraokeChoice {
  readonly singers: readonly string[];
  readonly voiceLevel: VoiceLevel;
}

/** The singers that the networks never heard (HELD_OUT_SINGERS of src/pitch/network/training/material.py). */
export const KARAOKE: KaraokeChoice = { singers: ['bug', 'heycat', 'khair'], voiceLevel: 0 };

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
  readonly read: (folder: string, karaoke: KaraokeChoice) => Case[];
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
    source: 'solo',
    voiceLevel: null,
    fold: (index % FOLDS) + 1,
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
    source: 'solo',
    voiceLevel: null,
    fold: null,
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
        source: group === 'mix' ? 'mix' : 'solo',
        voiceLevel: null,
        fold: null,
        half: null,
        readings: [{ label: '', notes: truth.notes }],
        melody: truth.melody,
      },
    ];
  });
}

/** Karaoke: `SINGER_….opus`, band on the left and voice on the right, with `SINGER_….pv`. */
function readKaraoke(folder: string, { singers, voiceLevel }: KaraokeChoice): Case[] {
  return names(folder, '.opus')
    .filter((name) => singers.includes(name.split('_')[0]!))
    .map((name) => ({
      group: 'mir1k',
      name,
      path: join(folder, `${name}.opus`),
      source: voiceLevel === 'alone' ? 'solo' : 'mix',
      voiceLevel,
      fold: null,
      half: null,
      readings: [],
      melody: readPitchLines(text(join(folder, `${name}.pv`)), `${name}.pv`),
    }));
}

const PARTS: readonly Part[] = [
  { folder: 'singing/ssvd', groups: ['ssvd'], read: readSightSinging },
  { folder: 'singing/vocadito', groups: ['vocadito'], read: readTwoAnnotators },
  { folder: 'made', groups: ['sung', 'piano', 'mix'], read: readRendered },
  { folder: 'mir1k', groups: ['mir1k'], read: readKaraoke },
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
export function findCases(
  root: string,
  choice: Choice,
  karaoke: KaraokeChoice = KARAOKE,
): { cases: Case[]; absent: string[] } {
  const wanted = PARTS.filter((part) => part.groups.some((g) => choice.groups.includes(g)));
  const present = wanted.filter((part) => existsSync(join(root, part.folder)));
  const cases = present
    .flatMap((part) => part.read(join(root, part.folder), karaoke))
    .filter((c) => choice.groups.includes(c.group))
    .filter((c) => choice.half === null || c.half === null || c.half === choice.half)
    .filter((c) => c.name.includes(choice.name));
  return {
    cases,
    absent: wanted.filter((part) => !present.includes(part)).map((part) => part.folder),
  };
}
