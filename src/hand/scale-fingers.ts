/**
 * Right-hand fingers of the scales, as method books give them (Hanon, The Virtuoso Pianist, 1873, no. 39, and the
 * tradition after it): the natural and the harmonic minor share theirs.
 */
import type { Finger } from './types.js';

export interface Scale {
  /** Pitch class of the tonic. */
  readonly tonic: number;
  /** Semitones over the tonic, seven. */
  readonly steps: readonly number[];
  /** Fingers of the seven degrees within the cycle that goes on from octave to octave. */
  readonly fingers: readonly Finger[];
}

const MAJOR = [0, 2, 4, 5, 7, 9, 11] as const;
const NATURAL_MINOR = [0, 2, 3, 5, 7, 8, 10] as const;
const HARMONIC_MINOR = [0, 2, 3, 5, 7, 8, 11] as const;

/** Fingers of the seven degrees by the tonic's pitch class, C, C#, D … */
const MAJOR_FINGERS =
  '1231234 2312341 1231234 3123412 1231234 1234123 2341231 1231234 3412312 1231234 4123123 1231234';
const MINOR_FINGERS =
  '1231234 3412312 1231234 3123412 1231234 1234123 3412312 1231234 3412312 1231234 4123123 1231234';

function scalesOf(steps: readonly number[], fingers: string): Scale[] {
  return fingers
    .split(' ')
    .map((word, tonic) => ({ tonic, steps, fingers: [...word].map((digit) => Number(digit) as Finger) }));
}

/** Twelve major, twelve natural minor, twelve harmonic minor scales. */
export const SCALES: readonly Scale[] = [
  ...scalesOf(MAJOR, MAJOR_FINGERS),
  ...scalesOf(NATURAL_MINOR, MINOR_FINGERS),
  ...scalesOf(HARMONIC_MINOR, MINOR_FINGERS),
];

/** Degree of a key in the scale, 0..6; −1 where the scale does not hold it. */
export function degreeOf(scale: Scale, midi: number): number {
  return scale.steps.indexOf((((midi - scale.tonic) % 12) + 12) % 12);
}
