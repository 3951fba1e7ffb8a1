import type { Line } from '../rhythm/types.js';
import type { FingerNote, Stroke } from './types.js';

/** A silence at least this long, in seconds, lets the hand move on its own (about a beat at 100 a minute). */
const REST_SECONDS = 0.6;
/** Starts and ends are rounded where they were written down. */
const ROUNDING_SECONDS = 0.002;

/**
 * What the hand meets of the notes: keys, and whether it has time to move before them. Before a new line of the song
 * the last note may be let go early, so there its length counts as well as the silence after it.
 */
export function strokesOf(notes: readonly FingerNote[], lines: readonly Line[] = []): Stroke[] {
  const starts = new Set(lines.map((line) => line.first - 1));
  return notes.map((note, i) => {
    const before = notes[i - 1];
    if (before === undefined) return { midi: note.midi, afterRest: false };
    const free = note.start - (starts.has(i) ? before.start : before.end);
    return { midi: note.midi, afterRest: free >= REST_SECONDS - ROUNDING_SECONDS };
  });
}
