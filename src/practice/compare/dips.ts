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

/**
 * Seconds by which a note may have begun earlier than it was heard: as long as the dip right before it, where that
 * answers nothing; else 0.
 */
export function hiddenSeconds(
  notes: readonly SideNote[],
  dips: readonly boolean[],
  answers: Int32Array,
  j: number,
): number {
  const [before, note] = [notes[j - 1], notes[j]!];
  if (before === undefined || dips[j - 1] !== true || answers[j - 1]! >= 0) return 0;
  return note.start - before.end <= GAP_SECONDS ? note.start - before.start : 0;
}
