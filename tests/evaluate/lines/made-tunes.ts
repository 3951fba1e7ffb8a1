/** The rendered cases as tunes whose lines are known: true notes, and their bars. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { LineNote } from '../../../src/rhythm/lines/clock.js';
import type { WrittenNotes } from '../../../src/rhythm/types.js';

export interface MadeTune {
  readonly name: string;
  readonly notes: readonly LineNote[];
  readonly written: WrittenNotes;
  /** Indices of the notes that start a line. */
  readonly lineStarts: readonly number[];
}

interface Truth {
  readonly name: string;
  readonly tune: string;
  readonly beatsPerBar: number;
  readonly lineStarts: readonly number[];
  readonly notes: readonly {
    readonly on: number;
    readonly off: number;
    readonly midi: number;
    readonly beat: number;
    readonly beats: number;
  }[];
}

/** Tunes that begin one beat before the bar (common practice); their files count beats from the first note. */
export const WITH_PICKUP: readonly string[] = [
  'amazing-grace',
  'auld-lang',
  'home-prairie',
  'shenandoah',
  'greensleeves',
];

function tuneOf({ name, tune, beatsPerBar, lineStarts, notes }: Truth): MadeTune {
  const pickup = WITH_PICKUP.includes(tune) ? 1 : 0;
  const places = notes.map((note) => {
    const beat = note.beat - pickup;
    const bar = Math.floor(beat / beatsPerBar);
    return { bar: bar + 1, beat: beat - bar * beatsPerBar + 1, beats: note.beats };
  });
  return {
    name,
    notes: notes.map((note) => ({ start: note.on, end: note.off, midi: note.midi })),
    written: { places, beatsPerBar },
    lineStarts,
  };
}

/** All of them, in order of name; none where there is no such folder. */
export function readMadeTunes(root: string): MadeTune[] {
  const folder = join(root, 'made');
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith('.truth.json'))
    .sort()
    .map((file) => tuneOf(JSON.parse(readFileSync(join(folder, file), 'utf8')) as Truth));
}

/** F-measure of the starts found, a start being right on the same note only. */
export function exactF(found: readonly number[], known: readonly number[]): number {
  const hits = found.filter((start) => known.includes(start)).length;
  return (2 * hits) / (found.length + known.length);
}
