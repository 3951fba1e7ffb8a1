/** How hard each key is struck, since a line without rise and fall is hard to remember. */
import type { MelodyNote } from '../../melody.js';

/** Mezzo forte is 0.6. All are our choice: small enough that no note is missed, large enough to be heard as one line. */
const MIDDLE = 0.58;
const ARCH = 0.1;
const DOWNBEAT = 0.05;
const PER_SEMITONE = 0.005;
const SOFTEST = 0.42;
const HARDEST = 0.78;

/** Velocities 0..1, a note each: the line swells to its middle, downbeats and high notes stand out a little. */
export function touchOf(notes: readonly MelodyNote[]): number[] {
  const first = notes[0]!.start;
  const span = notes.at(-1)!.start - first;
  const mean = notes.reduce((sum, { midi }) => sum + midi, 0) / notes.length;
  return notes.map(({ start, midi, beat }) => {
    const way = span > 0 ? (start - first) / span : 0;
    const wanted =
      MIDDLE + ARCH * Math.sin(Math.PI * way) + (beat === 1 ? DOWNBEAT : 0) + PER_SEMITONE * (midi - mean);
    return Math.min(Math.max(wanted, SOFTEST), HARDEST);
  });
}
