/**
 * How well heard beats agree with the beats of a reference: the F-measure of Davies, Degara & Plumbley,
 * "Evaluation methods for musical audio beat tracking algorithms" (Queen Mary, C4DM-TR-09-06, 2009), section 2.1,
 * with the window and the conventions of mir_eval.beat; and the tempo with and without its octave.
 *
 * Conventions: times in seconds, increasing; scores 0..1. A beat is right within 70 ms, limit included; a reference
 * beat takes one heard beat at most, and the other way round.
 *
 * Differences from mir_eval 0.8: where both lists are empty the scores are 0, as there (down: nothing to find and
 * nothing found). None else is known.
 */
import type { Score } from '../note-scores.js';

/** Seconds a beat may be off, limit included (Davies, Degara & Plumbley 2009, from Dixon 2001). */
export const BEAT_TOLERANCE_SECONDS = 0.07;
/** Seconds that MIREX leaves out at the start: a listener needs them to find the beat. */
export const MIREX_SKIPPED_SECONDS = 5;
/** Share that a tempo may be off, limit included. */
export const TEMPO_TOLERANCE = 0.03;

/** The beats from a time on. */
export function beatsFrom(beats: readonly number[], seconds: number): number[] {
  return beats.filter((time) => time >= seconds);
}

/**
 * Precision, recall and F of heard beats. Where every beat has the same window, pairing the two lists in order of
 * time gives the largest number of pairs: the earliest beat of either list that can have a partner takes the
 * earliest one left.
 *
 * @param skipSeconds beats before are left out of both lists: 0, or MIREX_SKIPPED_SECONDS
 */
export function scoreBeats(
  reference: readonly number[],
  estimate: readonly number[],
  skipSeconds = 0,
): Score {
  const known = beatsFrom(reference, skipSeconds);
  const heard = beatsFrom(estimate, skipSeconds);
  let right = 0;
  for (let i = 0, j = 0; i < known.length && j < heard.length; ) {
    // Rounded to a tenth of a microsecond, so that a beat exactly 70 ms off is not lost to binary fractions.
    const late = Math.round((heard[j]! - known[i]!) * 1e7) / 1e7;
    if (Math.abs(late) <= BEAT_TOLERANCE_SECONDS) {
      right++;
      i++;
      j++;
    } else if (late < 0) j++;
    else i++;
  }
  if (right === 0) return { precision: 0, recall: 0, f: 0 };
  return {
    precision: right / heard.length,
    recall: right / known.length,
    f: (2 * right) / (known.length + heard.length),
  };
}

/** Beats a minute by the median time from a beat to the next; null of fewer than two beats. */
export function tempoOf(beats: readonly number[]): number | null {
  const steps = beats
    .slice(1)
    .map((time, i) => time - beats[i]!)
    .sort((a, b) => a - b);
  if (steps.length === 0) return null;
  const middle = (steps[steps.length >> 1]! + steps[(steps.length - 1) >> 1]!) / 2;
  return 60 / middle;
}

/**
 * Whether a tempo is right.
 *
 * @param octaveForgiven half, double, a third and three times the tempo count as right, too (the second accuracy of
 *   Gouyon et al., IEEE TASLP 14(5), 2006, there with 4 %)
 */
export function tempoRight(reference: number, estimate: number | null, octaveForgiven = false): boolean {
  if (estimate === null) return false;
  const ratios = octaveForgiven ? [1, 2, 1 / 2, 3, 1 / 3] : [1];
  return ratios.some((ratio) => Math.abs(estimate / (ratio * reference) - 1) <= TEMPO_TOLERANCE + 1e-9);
}
