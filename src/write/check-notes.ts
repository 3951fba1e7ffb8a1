import type { Note } from '../notes/types.js';

/** Two notes may overlap by this much, in seconds, because times are written to the millisecond. */
const ROUNDING_SECONDS = 0.001;
/** Binary fractions of a decimal sum are off by less than this, in seconds. */
const FLOAT_SLACK = 1e-9;

/**
 * Latest end of a note, seconds: a day's start and a day's length, which is what a note list can say. What is counted in
 * beats up to then still fits into memory.
 */
export const LATEST_END = 2 * 86_400;

/** A pair of neighbouring notes that cannot both be right. */
interface OrderFault {
  /** Index of the later note of the pair. */
  readonly index: number;
  readonly kind: 'order' | 'overlap';
}

/** The first note that does not start after the one before it, or that starts before that one has ended. */
export function findOrderFault(notes: readonly Note[]): OrderFault | null {
  for (let index = 1; index < notes.length; index++) {
    const before = notes[index - 1]!;
    const note = notes[index]!;
    if (note.start <= before.start) return { index, kind: 'order' };
    if (before.end - note.start > ROUNDING_SECONDS + FLOAT_SLACK) return { index, kind: 'overlap' };
  }
  return null;
}

/** The same notes with overlaps of a rounding error cut off: a note ends at the latest where the next starts. */
export function trimOverlaps(notes: readonly Note[]): Note[] {
  return notes.map((note, index) => {
    const next = notes[index + 1];
    return next && next.start < note.end ? { ...note, end: next.start } : note;
  });
}
