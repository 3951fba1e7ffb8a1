/** Pop melodies with their keys, as evidence, whole and in excerpts, in five folds by song. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { linesOf } from '../../../src/rhythm/lines/lines.js';
import { keyFeatures, type ScaleEvidence } from '../../../src/theory/key-features.js';
import type { KeyWeights } from '../../../src/theory/key-model.js';
import { fitKeys, keyWeightsOf } from './fit.js';

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

/** Random numbers 0..1 (linear congruential; Numerical Recipes in C 1992, section 7.1). */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** What the ranking is told of notes: their lines, and the silences between them. */
export function evidenceOf(notes: readonly { start: number; end: number; midi: number }[]): {
  evidence: ScaleEvidence[];
  lineStarts: number[];
} {
  const lines = linesOf(notes);
  const ends = new Set(lines.map((line) => line.last - 1));
  const evidence = notes.map(({ start, end, midi }, i) => ({
    midi,
    weight: end - start,
    lineEnd: ends.has(i),
    confidence: 1,
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

/** Weights from the given songs. */
export function weightsFrom(songs: readonly Song[]): KeyWeights {
  const examples = songs.flatMap(({ key, notes, excerpts }) => [
    { features: keyFeatures(notes), key, share: 1 },
    ...excerpts.map((excerpt) => ({ features: keyFeatures(excerpt), key, share: EXCERPT_SHARE })),
  ]);
  return keyWeightsOf(fitKeys(examples, PULL));
}
