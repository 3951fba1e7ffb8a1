/** Sixteenths that loosely sung onsets stand for. */
import { type Metre, nextScore } from '../bars/metre.js';

/** Sixteenths each side of the nearest that are considered. */
const REACH = 1;

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
  const choices = 2 * REACH + 1;
  let scores: number[] = [];
  const from: number[][] = [];
  counts.forEach((count, n) => {
    const first = Math.round(count) - REACH;
    const before = n === 0 ? null : Math.round(counts[n - 1]!) - REACH;
    const back: number[] = [];
    const next: number[] = [];
    for (let j = 0; j < choices; j++) {
      const off = (count - first - j) / spread;
      let best = before === null ? 0 : Number.NEGATIVE_INFINITY;
      let bestFrom = 0;
      for (let k = 0; before !== null && k < choices; k++) {
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
    scores = next;
    from.push(back);
  });
  const positions: number[] = [];
  let j = scores.indexOf(Math.max(...scores));
  for (let n = counts.length - 1; n >= 0; n--) {
    positions.push(Math.round(counts[n]!) - REACH + j);
    j = from[n]![j]!;
  }
  return positions.reverse();
}
