/**
 * A hidden Markov model of second order for comparison, after Nakamura, Saito & Yoshii (Information Sciences 517, 2020):
 * a finger follows the last two, and each pair of fingers makes the way between their keys likely. Counts of printed
 * fingers, smoothed by adding a constant.
 */
import { isBlack, keyboardPlace } from '../../../src/hand/keyboard.js';
import type { Merits } from '../../../src/hand/merits.js';
import type { Stroke } from '../../../src/hand/types.js';

/** Farthest way that has a count of its own, in half widths of a white key. */
const FARTHEST = 30;
const WAYS = 2 * (2 * FARTHEST + 1);
/**
 * Added to every count of fingers, and of a way: the best of 0.1 to 30 and 0.01 to 3, in steps of about three, by five
 * folds of the pieces of even number (.610 of the fingers; the worst .559).
 */
const ADDED = { fingers: 1, way: 0.03 };

export interface FingerHmm {
  readonly first: Float64Array;
  readonly second: Float64Array;
  readonly third: Float64Array;
  /** Ways from the last key and, `skip`, from the one before, by fingers. */
  readonly way: Float64Array;
  readonly skip: Float64Array;
}

/** The way between two keys, and the colour of the second. */
function wayOf(from: Stroke, to: Stroke): number {
  const far = keyboardPlace(to.midi) - keyboardPlace(from.midi);
  return 2 * (FARTHEST + Math.max(-FARTHEST, Math.min(FARTHEST, far))) + (isBlack(to.midi) ? 1 : 0);
}

export function countHmm(
  parts: readonly { readonly strokes: readonly Stroke[]; readonly printed: readonly (number | null)[] }[],
  added: { readonly fingers: number; readonly way: number } = ADDED,
): FingerHmm {
  const first = new Float64Array(5).fill(added.fingers);
  const second = new Float64Array(25).fill(added.fingers);
  const third = new Float64Array(125).fill(added.fingers);
  const way = new Float64Array(25 * WAYS).fill(added.way);
  const skip = new Float64Array(25 * WAYS).fill(added.way);
  for (const { strokes, printed } of parts) {
    printed.forEach((finger, i) => {
      if (finger === null) return;
      const [last, before] = [printed[i - 1] ?? null, printed[i - 2] ?? null];
      first[finger - 1]! += 1;
      if (last === null) return;
      const pair = 5 * (last - 1) + finger - 1;
      second[pair]! += 1;
      way[WAYS * pair + wayOf(strokes[i - 1]!, strokes[i]!)]! += 1;
      if (before === null) return;
      third[25 * (before - 1) + pair]! += 1;
      skip[WAYS * (5 * (before - 1) + finger - 1) + wayOf(strokes[i - 2]!, strokes[i]!)]! += 1;
    });
  }
  return {
    first: logShares(first, 5),
    second: logShares(second, 5),
    third: logShares(third, 5),
    way: logShares(way, WAYS),
    skip: logShares(skip, WAYS),
  };
}

/** Logs of the shares within each group of `size`. */
function logShares(counts: Float64Array, size: number): Float64Array {
  const shares = new Float64Array(counts.length);
  for (let from = 0; from < counts.length; from += size) {
    const sum = counts.subarray(from, from + size).reduce((a, b) => a + b, 0);
    for (let k = from; k < from + size; k++) shares[k] = Math.log(counts[k]! / sum);
  }
  return shares;
}

export function hmmMerits(strokes: readonly Stroke[], hmm: FingerHmm): Merits {
  const count = strokes.length;
  const own = new Float64Array(5 * count);
  const last = new Float64Array(25 * count);
  const both = new Float64Array(125 * count);
  own.set(hmm.first, 0);
  for (let i = 1; i < count; i++) {
    const way = wayOf(strokes[i - 1]!, strokes[i]!);
    for (let at = 0; at < 25; at++) {
      last[25 * i + at] = hmm.way[WAYS * at + way]! + (i === 1 ? hmm.second[at]! : 0);
    }
    if (i < 2) continue;
    const skip = wayOf(strokes[i - 2]!, strokes[i]!);
    for (let at = 0; at < 125; at++) {
      both[125 * i + at] = hmm.third[at]! + hmm.skip[WAYS * (5 * Math.floor(at / 25) + (at % 5)) + skip]!;
    }
  }
  return { own, last, both };
}
