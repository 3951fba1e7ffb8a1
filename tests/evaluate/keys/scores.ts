/** Scores of keys: exact, MIREX weighted, among the first three, and whether the probability holds. Keys are 0..11 major by tonic, 12..23 minor. */

import { isMinor } from '../../../src/theory/key-signature.js';
import { nameParts } from '../../../src/theory/tonal-tables.js';
import type { RankedScale } from '../../../src/theory/types.js';

/** The probability of each key: those of the scales on its tonic with its third. */
export function keyProbabilities(ranked: readonly RankedScale[]): number[] {
  const keys = new Array<number>(24).fill(0);
  for (const scale of ranked) keys[keyOf(scale)] += scale.score;
  return keys;
}

export function keyOf({ tonic, mode }: Pick<RankedScale, 'tonic' | 'mode'>): number {
  const parts = nameParts(tonic);
  if (parts === null) throw new RangeError(`no tonic ${tonic}`);
  return parts.pitchClass + (isMinor(mode) ? 12 : 0);
}

/** MIREX key score as in mir_eval's key.py: same 1, fifth either way 0.5, relative 0.3, parallel 0.2, other 0. */
export function weightedScore(answer: number, truth: number): number {
  if (answer === truth) return 1;
  const apart = (answer - truth + 24) % 12;
  const [minor, minorTruth] = [answer >= 12, truth >= 12];
  if (minor === minorTruth) return apart === 5 || apart === 7 ? 0.5 : 0;
  if (apart === (minor ? 9 : 3)) return 0.3;
  return apart === 0 ? 0.2 : 0;
}

/** Keys by falling value, the lower key first where they are equal. */
export function orderOf(values: readonly number[]): number[] {
  return values.map((_, key) => key).sort((a, b) => values[b] - values[a] || a - b);
}
