/** The probability of every scale on every tonic. */

import { HARMONY_WEIGHTS } from './harmony-weights.js';
import { keyFeatures, type ScaleEvidence } from './key-features.js';
import { type HarmonyEvidence, harmonyFeatures, harmonyLogs } from './key-harmony.js';
import { type Base, FRAMES, kindShares, tallyOf } from './key-kinds.js';
import { type KeyWeights, tonicLogs } from './key-model.js';
import type { Mode } from './types.js';

export interface ScaleProbability {
  /** Pitch class 0..11. */
  readonly tonic: number;
  readonly mode: Mode;
  /** 0..1; all of them add up to 1. */
  readonly score: number;
}

const BASES: readonly Base[] = ['major', 'minor'];

/**
 * The probabilities of the twelve tonics of every scale, in no order. First how well each major and minor tonic explains
 * the melody, also as the tonic of a church mode, which is major or minor with degrees exchanged (key-model.ts); then
 * which scale on that tonic holds the notes (key-kinds.ts). What sounds under the melody, where it is known, speaks for the
 * tonic alone: chords leave out too many degrees, and bring too many overtones, to tell two scales of a tonic apart.
 */
export function scaleProbabilities(
  notes: readonly ScaleEvidence[],
  weights: KeyWeights,
  harmony: HarmonyEvidence | null,
): ScaleProbability[] {
  const features = keyFeatures(notes);
  const sounding = harmony === null ? null : harmonyFeatures(harmony);
  const tally = tallyOf(notes);
  const logs = BASES.map((base) =>
    FRAMES[base].map(({ swaps, prior }) => {
      const own = tonicLogs(features, weights[base], swaps);
      const added = sounding === null ? null : harmonyLogs(sounding, HARMONY_WEIGHTS[base], swaps);
      for (let tonic = 0; tonic < 12; tonic++) {
        own[tonic] += Math.log(prior);
        if (added !== null) own[tonic] += added[tonic];
      }
      return own;
    }),
  );
  const top = Math.max(...logs.flat().map((row) => Math.max(...row)));
  const tonics = logs.map((rows) => summed(rows, top));
  let total = 0;
  for (const row of tonics) for (let tonic = 0; tonic < 12; tonic++) total += row[tonic];
  const scales: ScaleProbability[] = [];
  for (const [b, base] of BASES.entries()) {
    for (const { mode, byTonic } of kindShares(base, tally)) {
      for (let tonic = 0; tonic < 12; tonic++) {
        scales.push({ tonic, mode, score: (byTonic[tonic] * tonics[b][tonic]) / total });
      }
    }
  }
  return scales;
}

/** Sums of the probabilities that the rows give each tonic, over that of `top`. */
function summed(rows: readonly Float64Array[], top: number): Float64Array {
  const sums = new Float64Array(12);
  for (const row of rows) for (let tonic = 0; tonic < 12; tonic++) sums[tonic] += Math.exp(row[tonic] - top);
  return sums;
}
