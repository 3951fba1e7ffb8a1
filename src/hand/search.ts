import type { Merits } from './merits.js';

/**
 * The fingers whose merits sum to the most, 0..4, one a note: dynamic programming over the whole melody (Viterbi
 * 1967), the state being the fingers of the last two notes. Time and memory grow linearly, 125 steps a note.
 */
export function bestFingers({ own, last, both }: Merits, count: number): number[] {
  if (count === 0) return [];
  if (count === 1) return [greatest(own)];
  let sums = new Float64Array(25);
  for (let s = 0; s < 25; s++) sums[s] = own[Math.floor(s / 5)]! + own[5 + (s % 5)]! + last[25 + s]!;
  const back = new Uint8Array(25 * count);
  for (let i = 2; i < count; i++) {
    const next = new Float64Array(25);
    for (let s = 0; s < 25; s++) {
      const middle = Math.floor(s / 5);
      let best = Number.NEGATIVE_INFINITY;
      for (let f = 0; f < 5; f++) {
        const sum = sums[5 * f + middle]! + both[125 * i + 25 * f + s]!;
        if (sum > best) {
          best = sum;
          back[25 * i + s] = f;
        }
      }
      next[s] = best + last[25 * i + s]! + own[5 * i + (s % 5)]!;
    }
    sums = next;
  }
  return traceBack(greatest(sums), back, count);
}

/** Index of the greatest, the first of equals. */
function greatest(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! > values[best]!) best = i;
  return best;
}

function traceBack(lastState: number, back: Uint8Array, count: number): number[] {
  const fingers: number[] = new Array(count);
  let state = lastState;
  for (let i = count - 1; i >= 1; i--) {
    fingers[i] = state % 5;
    const before = Math.floor(state / 5);
    fingers[i - 1] = before;
    if (i >= 2) state = 5 * back[25 * i + state]! + before;
  }
  return fingers;
}
