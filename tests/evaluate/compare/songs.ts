/** The melodies to be attempted: true notes of rendered recordings, and labels of sight-singing. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Side, SideNote } from '../../../src/practice/compare/types.js';
import { linesFrom, linesOf } from '../../../src/rhythm/lines/lines.js';
import { noteName } from '../../../src/theory/pitch-names.js';
import { readNoteLines } from '../truth.js';

export interface Song {
  readonly name: string;
  /** What was tuned on half a is reported on half b. */
  readonly half: 'a' | 'b';
  readonly target: Side;
}

interface Bare {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** Longest attempt, in notes. */
const MOST_NOTES = 32;

/** A side of exact notes; `lineStarts`: indices, null where lines are to be found. */
export function sideOf(notes: readonly Bare[], lineStarts: readonly number[] | null): Side {
  const lines = lineStarts === null ? linesOf(full(notes), null) : linesFrom(full(notes), lineStarts);
  return {
    tuningCents: 0,
    heard: false,
    notes: full(notes).map((note, i) => ({
      ...note,
      line: lines.findIndex((line) => i + 1 >= line.first && i + 1 <= line.last) + 1,
    })),
  };
}

function full(notes: readonly Bare[]): SideNote[] {
  return notes.map((note) => ({
    ...note,
    pitch: note.midi,
    confidence: 1,
    other: null,
    name: noteName(note.midi),
    line: 1,
  }));
}

/** All songs under `root`. The halves share no tune of the rendered ones, and no neighbours of the sight-singing. */
export function songsIn(root: string): Song[] {
  return [...madeSongs(join(root, 'made')), ...sungSongs(join(root, 'singing/ssvd'))];
}

function namesIn(folder: string, ending: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => basename(name, ending));
}

function madeSongs(folder: string): Song[] {
  const tunes = new Map<
    string,
    { lineStarts: number[]; notes: { on: number; off: number; midi: number }[] }
  >();
  for (const name of namesIn(folder, '.truth.json')) {
    const truth = JSON.parse(readFileSync(join(folder, `${name}.truth.json`), 'utf8'));
    if (!tunes.has(truth.tune)) tunes.set(truth.tune, truth);
  }
  return [...tunes].map(([name, { notes, lineStarts }], i) => {
    const kept = notes
      .slice(0, MOST_NOTES)
      .map(({ on, off, midi }) => ({ start: on, end: off, midi: Math.round(midi) }));
    const starts = lineStarts.filter((start) => start < kept.length);
    return { name, half: i % 2 === 0 ? 'a' : 'b', target: sideOf(kept, starts) };
  });
}

/** The labels lie off the keys by a constant a recording, which is taken out. */
function sungSongs(folder: string): Song[] {
  const names = namesIn(folder, '.txt');
  return names.map((name, i) => {
    const labels = readNoteLines(readFileSync(join(folder, `${name}.txt`), 'utf8'), name).slice(
      0,
      MOST_NOTES,
    );
    const angles = labels.map(({ pitch }) => 2 * Math.PI * pitch);
    const [x, y] = [Math.cos, Math.sin].map((of) => angles.reduce((sum, angle) => sum + of(angle), 0));
    const shift = Math.atan2(y!, x!) / (2 * Math.PI);
    const notes = labels.map(({ start, end, pitch }) => ({ start, end, midi: Math.round(pitch - shift) }));
    return { name, half: i < names.length / 2 ? 'a' : 'b', target: sideOf(notes, null) };
  });
}
