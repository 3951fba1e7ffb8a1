/** Sixteenths that loosely sung onsets stand for. */
import { type Metre, nextScore } from '../bars/metre.js';

/** Sixteenths each side of the nearest that are considered. */
const REACH = 1;
const CHOICES = 2 * REACH + 1;

/**
 * The likeliest row of sixteenths: each onset a normal spread about its own, each sixteenth after the one before
 * it as in tunes of the metre (Viterbi). Never decreasing.
 *
 * @param counts onsets counted in sixteenths, in order
 * @param shift place in its bar of the sixteenth counted 0
 * @param spread sixteenths (standard deviation)
 */
export function loosePositions(
  counts: readonly number[],
  shift: number,
  metre: Metre,
  spread: number,
): number[] {
  let scores: number[] = [];
  const from: number[][] = [];
  for (let n = 0; n < counts.length; n++) {
    const before = n === 0 ? null : Math.round(counts[n - 1]!) - REACH;
    const { next, back } = step(counts[n]!, before, scores, shift, metre, spread);
    scores = next;
    from.push(back);
  }
  const positions: number[] = [];
  let j = scores.indexOf(Math.max(...scores));
  for (let n = counts.length - 1; n >= 0; n--) {
    positions.push(Math.round(counts[n]!) - REACH + j);
    j = from[n]![j]!;
  }
  return positions.reverse();
}

/** Scores of the sixteenths of one onset, and from which of the onset before each comes. */
function step(
  count: number,
  before: number | null,
  scores: readonly number[],
  shift: number,
  metre: Metre,
  spread: number,
): { next: number[]; back: number[] } {
  const first = Math.round(count) - REACH;
  const next: number[] = [];
  const back: number[] = [];
  for (let j = 0; j < CHOICES; j++) {
    const off = (count - first - j) / spread;
    let best = before === null ? 0 : Number.NEGATIVE_INFINITY;
    let bestFrom = 0;
    for (let k = 0; before !== null && k < CHOICES; k++) {
      const interval = first + j - before - k;
      if (interval < 0) continue;
      const place = (((before + k + shift) % metre.bar) + metre.bar) % metre.bar;
      const score = scores[k]! + nextScore(metre, place, interval);
      if (score > best) {
        best = score;
        bestFrom = k;
      }
    }
    next.push(best - (off * off) / 2);
    back.push(bestFrom);
  }
  return { next, back };
}
