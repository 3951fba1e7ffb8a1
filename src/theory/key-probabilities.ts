/** The probability of every scale on every tonic. */
import { keyFeatures, type ScaleEvidence } from './key-features.js';
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
 * which scale on that tonic holds the notes (key-kinds.ts).
 */
export function scaleProbabilities(notes: readonly ScaleEvidence[], weights: KeyWeights): ScaleProbability[] {
  const features = keyFeatures(notes);
  const tally = tallyOf(notes);
  const logs = BASES.map((base) =>
    FRAMES[base].map(({ swaps, prior }) =>
      tonicLogs(features, weights[base], swaps).map((log) => log + Math.log(prior)),
    ),
  );
  const top = Math.max(...logs.flat().map((row) => Math.max(...row)));
  const tonics = logs.map((rows) =>
    Float64Array.from({ length: 12 }, (_, tonic) =>
      rows.reduce((sum, row) => sum + Math.exp(row[tonic] - top), 0),
    ),
  );
  const total = tonics.flatMap((row) => [...row]).reduce((a, b) => a + b, 0);
  return BASES.flatMap((base, b) =>
    kindShares(base, tally).flatMap(({ mode, byTonic }) =>
      Array.from(byTonic, (share, tonic) => ({ tonic, mode, score: (share * tonics[b][tonic]) / total })),
    ),
  );
}
