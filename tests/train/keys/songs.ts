/** Pop melodies with their keys, as evidence, whole and in excerpts, in five folds by song. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { linesOf } from '../../../src/rhythm/lines/lines.js';
import {
  FEATURE_KINDS,
  type FeatureKind,
  keyFeatures,
  type ScaleEvidence,
} from '../../../src/theory/key-features.js';
import type { KeyWeights } from '../../../src/theory/key-model.js';
import { chance } from './chance.js';
import { type Example, fitKeys } from './fit.js';
import type { FolkSong } from './folk.js';

export const FOLDS = 5;

export interface Song {
  readonly id: string;
  /** Tonic 0..11, and 12 more in minor. */
  readonly key: number;
  readonly notes: readonly ScaleEvidence[];
  /** Two runs of one to eight lines, chosen by chance, the same every time. */
  readonly excerpts: readonly (readonly ScaleEvidence[])[];
  readonly fold: number;
}

/** One line of the file: notes as [start s, length s, MIDI]. */
interface SongRow {
  readonly id: string;
  readonly tonic: number;
  readonly mode: 'major' | 'minor';
  readonly notes: readonly (readonly [number, number, number])[];
}

const EXCERPTS = 2;
const MOST_LINES = 8;
/** What an excerpt counts beside a whole song, and the pull of the weights towards 0; chosen by the folds. */
const EXCERPT_SHARE = 0.3;
const PULL = 2;
/** What the folk tunes of each mode count together: as many whole pop songs. Every mode counts alike. */
const MODE_SHARE = 50;

/** What the ranking is told of notes: their lines, and the silences between them. Without confidences they are sure. */
export function evidenceOf(
  notes: readonly { start: number; end: number; midi: number; confidence?: number }[],
): {
  evidence: ScaleEvidence[];
  lineStarts: number[];
} {
  const lines = linesOf(notes);
  const ends = new Set(lines.map((line) => line.last - 1));
  const evidence = notes.map(({ start, end, midi, confidence = 1 }, i) => ({
    midi,
    weight: end - start,
    lineEnd: ends.has(i),
    confidence,
    ...(i + 1 < notes.length ? { silenceAfter: Math.max(0, notes[i + 1].start - end) } : {}),
  }));
  return { evidence, lineStarts: lines.map((line) => line.first - 1) };
}

function songOf(row: SongRow, index: number): Song {
  const { evidence, lineStarts } = evidenceOf(
    row.notes.map(([start, length, midi]) => ({ start, end: start + length, midi })),
  );
  const random = chance(index + 1);
  random();
  const excerpts = Array.from({ length: EXCERPTS }, () => {
    const count = Math.min(lineStarts.length, 1 + Math.floor(random() * MOST_LINES));
    const from = Math.floor(random() * (lineStarts.length - count + 1));
    return evidence.slice(lineStarts[from], lineStarts[from + count] ?? evidence.length);
  });
  const key = row.tonic + (row.mode === 'minor' ? 12 : 0);
  return { id: row.id, key, notes: evidence, excerpts, fold: index % FOLDS };
}

/** The songs under `root`, or null where they are not there. */
export function readSongs(root: string): Song[] | null {
  const path = join(root, 'keys', 'pop909-melodies.jsonl');
  if (!existsSync(path)) return null;
  const lines = readFileSync(path, 'utf8').trim().split('\n');
  return lines.map((line, i) => songOf(JSON.parse(line) as SongRow, i));
}

/** Index in FRAMES of the frame of each mode. */
const FRAME_OF = { major: 0, mixolydian: 1, minor: 0, dorian: 1 } as const;

/**
 * Weights from the given songs. Of a folk tune in another mode than the minor the frame is known; those that are marked
 * minor, as those of pop songs are, may raise their sixth.
 */
export function weightsFrom(songs: readonly Song[], folk: readonly FolkSong[] = []): KeyWeights {
  const pop = songs.flatMap(({ key, notes, excerpts }): Example<FeatureKind>[] => {
    const known = { tonic: key % 12, base: key < 12 ? 'major' : 'minor', frame: null } as const;
    return [
      { ...known, features: keyFeatures(notes), share: 1 },
      ...excerpts.map((excerpt) => ({ ...known, features: keyFeatures(excerpt), share: EXCERPT_SHARE })),
    ];
  });
  const takesOf = (mode: FolkSong['mode']): number =>
    folk.reduce((sum, tune) => sum + (tune.mode === mode ? tune.takes.length : 0), 0);
  const modal = folk.flatMap(({ tonic, mode, takes }) =>
    takes.map((take): Example<FeatureKind> => {
      const base = mode === 'minor' || mode === 'dorian' ? 'minor' : 'major';
      const frame = mode === 'minor' ? null : FRAME_OF[mode];
      return { tonic, base, frame, features: keyFeatures(take), share: MODE_SHARE / takesOf(mode) };
    }),
  );
  return fitKeys([...pop, ...modal], FEATURE_KINDS, PULL);
}
