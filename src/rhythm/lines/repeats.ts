/** Where patterns of notes that return begin and end. */
import type { LineClock } from './clock.js';

/** For every note 0..1: 1 for a pattern of eight notes or more, in proportion for shorter ones, 0 for none. */
export interface Repeats {
  /** A pattern that is heard elsewhere begins here. */
  readonly begin: Float64Array;
  /** Such a pattern ended with the note before. */
  readonly end: Float64Array;
  /** As `begin`, for patterns that return after whole bars, in full after a multiple of four; 0 without bars. */
  readonly inBars: Float64Array;
}

/** A pattern of fewer steps from note to note returns by chance. */
const LEAST_STEPS = 3;

/** Steps of a pattern beyond which it is no stronger. */
const FULL_STEPS = 8;

/** How many notes back a pattern is looked for: a song's worth, so that time grows with length only. */
const FARTHEST_NOTES = 1000;

/** Onset intervals count as equal within this many doublings: singing is not exact, but a half note is not a quarter. */
const SAME_INTERVAL_DOUBLINGS = 0.45;

/** What a return after whole bars counts: four-bar groups are the rule (Dai et al. 2020), and odd numbers rare. */
function lagShare(beats: number, bar: number | null): number {
  if (bar === null) return 0;
  const bars = Math.round(beats / bar);
  if (Math.abs(beats / bar - bars) > 1e-6) return 0;
  return bars % 4 === 0 ? 1 : bars % 2 === 0 ? 0.7 : 0.3;
}

/**
 * Repeats of steps in semitones and onset intervals (the parallelism of Temperley, The Cognition of Basic Musical
 * Structures, 2001, ch. 3): for every distance in notes, the runs of agreeing steps, cut so that a pattern does
 * not overlap its own return. A run that begins with the melody says nothing of where it returns from.
 */
export function findRepeats(pitches: readonly number[], clock: LineClock): Repeats {
  const count = pitches.length;
  const steps = Int16Array.from({ length: Math.max(count - 1, 0) }, (_, i) => pitches[i + 1]! - pitches[i]!);
  const lengths = clock.intervals.map((interval) => Math.log2(interval)).subarray(1);
  const begin = new Float64Array(count);
  const end = new Float64Array(count);
  const inBars = new Float64Array(count);
  const raise = (strengths: Float64Array, i: number, strength: number): void => {
    if (i < count && strength > strengths[i]!) strengths[i] = strength;
  };
  for (let distance = 1; distance <= Math.min(steps.length, FARTHEST_NOTES); distance++) {
    let run = 0;
    for (let i = distance; i <= steps.length; i++) {
      const isSame =
        i < steps.length &&
        steps[i] === steps[i - distance] &&
        Math.abs(lengths[i]! - lengths[i - distance]!) < SAME_INTERVAL_DOUBLINGS;
      if (isSame) {
        run++;
        continue;
      }
      const matched = Math.min(run, distance);
      const later = i - run;
      run = 0;
      if (matched < LEAST_STEPS) continue;
      const earlier = later - distance;
      const strength = Math.min(matched / FULL_STEPS, 1);
      const barred = strength * lagShare(clock.onsets[later]! - clock.onsets[earlier]!, clock.bar);
      raise(begin, later, strength);
      raise(begin, earlier, strength);
      raise(inBars, later, barred);
      raise(inBars, earlier, barred);
      raise(end, i + 1, strength);
      raise(end, i + 1 - distance, strength);
    }
  }
  return { begin, end, inBars };
}
