/**
 * How often each choice of fingers is expected in a stretch, by the forward-backward sums of a second-order chain
 * (Rabiner 1989; the log-linear chain of Lafferty, McCallum & Pereira 2001).
 */
import type { Merits } from '../../../src/hand/merits.js';

/** Probabilities laid out as `Merits` are: of every note's finger, of it with the last, of the last three. */
export interface Expected {
  readonly own: Float64Array;
  readonly last: Float64Array;
  readonly both: Float64Array;
  /** Log of the sum over all choices. */
  readonly logSum: number;
}

/** `fingers`: what is held to, 0..4 by note, −1 where all are open; null: all open. Three notes or more. */
export function expectedOf(merits: Merits, count: number, fingers: Int8Array | null): Expected {
  const open = (i: number, f: number): boolean => fingers === null || fingers[i]! < 0 || fingers[i] === f;
  const way = new Float64Array(125 * count);
  let first: Float64Array = new Float64Array(25);
  for (let s = 0; s < 25; s++) {
    const [f1, f2] = [Math.floor(s / 5), s % 5];
    if (open(0, f1) && open(1, f2)) {
      first[s] = Math.exp(merits.own[f1]! + merits.own[5 + f2]! + merits.last[25 + s]!);
    }
  }
  let logSum = 0;
  const forward = new Float64Array(25 * count);
  const settle = (values: Float64Array): Float64Array => {
    const sum = values.reduce((a, b) => a + b, 0);
    logSum += Math.log(sum);
    return values.map((value) => value / sum);
  };
  first = settle(first);
  forward.set(first, 25);
  const scales = new Float64Array(count).fill(1);
  for (let i = 2; i < count; i++) {
    const next = new Float64Array(25);
    for (let at = 0; at < 125; at++) {
      const f3 = at % 5;
      if (!open(i, f3)) continue;
      const s = at % 25;
      const weight = Math.exp(
        merits.both[125 * i + at]! + merits.last[25 * i + s]! + merits.own[5 * i + f3]!,
      );
      way[125 * i + at] = weight;
      next[s]! += forward[25 * (i - 1) + Math.floor(at / 5)]! * weight;
    }
    const before = logSum;
    forward.set(settle(next), 25 * i);
    scales[i] = Math.exp(logSum - before);
  }
  return { ...backward(way, forward, scales, count), logSum };
}

function backward(
  way: Float64Array,
  forward: Float64Array,
  scales: Float64Array,
  count: number,
): Omit<Expected, 'logSum'> {
  const own = new Float64Array(5 * count);
  const last = new Float64Array(25 * count);
  const both = new Float64Array(125 * count);
  let after = new Float64Array(25).fill(1);
  for (let i = count - 1; i >= 2; i--) {
    const earlier = new Float64Array(25);
    for (let at = 0; at < 125; at++) {
      const weight = way[125 * i + at]!;
      if (weight === 0) continue;
      const s = at % 25;
      const from = Math.floor(at / 5);
      const value = (weight * after[s]!) / scales[i]!;
      earlier[from]! += value;
      const probability = forward[25 * (i - 1) + from]! * value;
      both[125 * i + at] = probability;
      last[25 * i + s]! += probability;
      own[5 * i + (at % 5)]! += probability;
    }
    after = earlier;
  }
  for (let s = 0; s < 25; s++) {
    const probability = forward[25 + s]! * after[s]!;
    last[25 + s] = probability;
    own[5 + (s % 5)]! += probability;
    own[Math.floor(s / 5)]! += probability;
  }
  return { own, last, both };
}
