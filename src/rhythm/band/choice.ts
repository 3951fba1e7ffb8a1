import { type Accents, valueAt } from './accents.js';
import type { HarmonySums } from './harmony.js';
import { harmonyChange } from './harmony.js';
import type { Tempogram } from './tempogram.js';

/** What tells the beat from its halves, doubles and off-beats. */
export interface BeatMarks {
  /** Square of log2 of the mean beat over 0.6 s, the tempo people prefer (Parncutt, Music Perception 11(4), 1994). */
  readonly farFromPreferred: number;
  /** Mean accent at the thirds of beats in the low register, */
  readonly lowThirds: number;
  /** and at their first and last quarters. */
  readonly lowQuarters: number;
  /** Mean accent at the beats in the high register. */
  readonly highBeat: number;
  /** Mean change of harmony half-way between beats. */
  readonly changeHalf: number;
  /** How much more the harmony changes at every other beat. */
  readonly changeAlternates: number;
  /** Autocorrelation of the accents at the mean beat. */
  readonly selfLikeness: number;
}

/**
 * Weights of a multinomial logistic model of which candidate is the beat, fitted on 86 rendered songs of known beats
 * (tests/evaluate/beats/README.md says how); seven of 36 marks, found by leaving out one after the other.
 */
const WEIGHTS: BeatMarks = {
  farFromPreferred: -3.51,
  lowThirds: -2.95,
  lowQuarters: -6.52,
  highBeat: 1.58,
  changeHalf: -7.3,
  changeAlternates: 7.36,
  selfLikeness: 2.4,
};
const MARKS = Object.keys(WEIGHTS) as (keyof BeatMarks)[];
/** log2 of seconds. */
const PREFERRED = Math.log2(0.6);
const FRAME_SECONDS = 0.01;

/** The marks of a chain of beats (frames, may be fractional), at least two. */
export function beatMarks(
  beats: readonly number[],
  { low, high }: Accents,
  harmony: HarmonySums,
  tempogram: Tempogram,
): BeatMarks {
  const period = (beats.at(-1)! - beats[0]!) / (beats.length - 1);
  const part = (share: number) => between(beats, share);
  const every = (remainder: number) =>
    meanOf(
      beats.filter((_, i) => i % 2 === remainder),
      (beat) => harmonyChange(harmony, beat, period),
    );
  return {
    farFromPreferred: (Math.log2(period * FRAME_SECONDS) - PREFERRED) ** 2,
    lowThirds: meanOf([...part(1 / 3), ...part(2 / 3)], (beat) => peakAt(low, beat)),
    lowQuarters: meanOf([...part(1 / 4), ...part(3 / 4)], (beat) => peakAt(low, beat)),
    highBeat: meanOf(beats, (beat) => peakAt(high, beat)),
    changeHalf: meanOf(part(1 / 2), (beat) => harmonyChange(harmony, beat, period / 2)),
    changeAlternates: Math.abs(every(0) - every(1)),
    selfLikeness: valueAt(tempogram.mean, period),
  };
}

/** Log of the odds of a candidate, up to a constant. */
export function beatScore(marks: BeatMarks): number {
  return MARKS.reduce((sum, mark) => sum + WEIGHTS[mark] * marks[mark], 0);
}

/** The points so far (0..1) from every beat to the next. */
export function between(beats: readonly number[], share: number): number[] {
  return beats.slice(1).map((next, i) => beats[i]! + share * (next - beats[i]!));
}

function meanOf(beats: readonly number[], of: (beat: number) => number): number {
  if (beats.length === 0) return 0;
  return beats.reduce((sum, beat) => sum + of(beat), 0) / beats.length;
}

/** Largest value within a frame. */
function peakAt(values: Float32Array, frame: number): number {
  return Math.max(valueAt(values, frame - 1), valueAt(values, frame), valueAt(values, frame + 1));
}
