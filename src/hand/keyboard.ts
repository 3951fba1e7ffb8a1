/** The keys of the piano as the hand meets them. Keys are MIDI numbers. */

const BLACK = new Set([1, 3, 6, 8, 10]);

/** Half widths of a white key from C: white keys are two apart, black ones lie between them. */
const HALF_WHITES = [0, 1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 12] as const;

function pitchClass(midi: number): number {
  return ((midi % 12) + 12) % 12;
}

/** Whether a MIDI number is a black key. */
export function isBlack(midi: number): boolean {
  return BLACK.has(pitchClass(midi));
}

/**
 * Place of a key along the keyboard in half widths of a white key: what the hand spans is width, not semitones
 * (Jacobs, Music Perception 18(4), 2001).
 */
export function keyboardPlace(midi: number): number {
  return 14 * Math.floor(midi / 12) + HALF_WHITES[pitchClass(midi)]!;
}
