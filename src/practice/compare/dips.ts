/**
 * Dips: where one note still rings while the next begins, a tone far below both may be heard for a moment, of which
 * both are overtones, before the next note or in its place. Nobody plays it.
 */
import type { Side, SideNote } from './types.js';

/** A dip lies so many semitones below the notes on both sides of it, an octave. */
const DEPTH = 12;
/** Nothing is silent between a dip and the note that is heard behind it. */
const GAP_SECONDS = 0.06;

/** Which notes are dips; what was not heard has none. */
export function dipsIn({ notes, heard }: Side): boolean[] {
  return notes.map(({ midi }, j) => {
    const [before, next] = [notes[j - 1], notes[j + 1]];
    if (!heard || before === undefined || next === undefined) return false;
    return midi <= Math.min(before.midi, next.midi) - DEPTH;
  });
}

/** The notes, each behind a dip that answers nothing beginning where the dip began. */
export function withoutDips(
  notes: readonly SideNote[],
  dips: readonly boolean[],
  answers: Int32Array,
): SideNote[] {
  return notes.map((note, j) => {
    const before = notes[j - 1];
    const isBehind = before !== undefined && dips[j - 1] === true && answers[j - 1]! < 0;
    return isBehind && note.start - before.end <= GAP_SECONDS ? { ...note, start: before.start } : note;
  });
}
