/** Melodies to compare, in few words. */

import { compare } from '../../../src/practice/compare/compare.js';
import type { CompareOptions, Comparison, Side, SideNote } from '../../../src/practice/compare/types.js';
import { noteName } from '../../../src/theory/pitch-names.js';

export const ALL: CompareOptions = { sameKey: false, line: null };

/** Two lines of eight notes, no two neighbours alike, half a second each. */
export const TUNE = [60, 64, 62, 65, 67, 64, 69, 67, 72, 69, 71, 67, 65, 69, 62, 60];

/** A side of exact notes, half a second each, eight to a line. */
export function sideOf(midis: readonly number[], changes: Partial<Side> = {}): Side {
  return {
    tuningCents: 0,
    heard: false,
    notes: midis.map((midi, i) => ({
      start: 1 + i / 2,
      end: 1.45 + i / 2,
      midi,
      pitch: midi,
      confidence: 1,
      other: null,
      name: noteName(midi),
      line: 1 + Math.floor(i / 8),
    })),
    ...changes,
  };
}

/** The same side with each note changed. */
export function withNotes(side: Side, change: (note: SideNote, index: number) => Partial<SideNote>): Side {
  return { ...side, notes: side.notes.map((note, i) => ({ ...note, ...change(note, i) })) };
}

/** A side as heard in a recording. */
export function heardSide(midis: readonly number[]): Side {
  return withNotes(sideOf(midis, { heard: true }), () => ({ confidence: 0.95 }));
}

/** Later by these seconds from note `index` on. */
export function delayed(side: Side, index: number, seconds: number): Side {
  return withNotes(side, ({ start, end }, i) =>
    i < index ? {} : { start: start + seconds, end: end + seconds },
  );
}

/** `target/attempt verdict semitones` of all that is not right: `4/4 too high 1`, `-/9 extra`. */
export function faults({ notes }: Comparison): string[] {
  return notes
    .filter(({ verdict, probable }) => verdict !== 'right' || probable)
    .map(({ target, attempt, verdict, semitones, probable }) =>
      [`${target ?? '-'}/${attempt ?? '-'}`, probable ? 'probably' : '', verdict, semitones || '']
        .filter((word) => word !== '')
        .join(' '),
    );
}

export function faultsOf(target: Side, attempt: Side, options = ALL): string[] {
  return faults(compare(target, attempt, options));
}
