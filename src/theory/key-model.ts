/** How well each tonic explains a melody: a log-linear model, the same for every transposition. */
import { FEATURE_KINDS, type FeatureKind, type KeyFeatures } from './key-features.js';

/** What the evidence at each degree (semitones above the tonic, 0..11) adds to the log probability of a key. */
export interface ModeWeights<Kind extends string = FeatureKind> {
  readonly bias: number;
  readonly degrees: Readonly<Record<Kind, readonly number[]>>;
}

export interface KeyWeights {
  readonly major: ModeWeights;
  readonly minor: ModeWeights;
}

/** Degrees, in semitones, that change places to make one mode of another. */
export type Swap = readonly [number, number];

/** Of every degree of a mode, the degree of the major or minor scale whose weights it takes. */
export function placesOf(swaps: readonly Swap[]): number[] {
  const places = Array.from({ length: 12 }, (_, degree) => degree);
  for (const [a, b] of swaps) [places[a], places[b]] = [places[b], places[a]];
  return places;
}

/**
 * Log probability, up to a constant, of each tonic 0..11. The weights are those of the major or the minor scale;
 * `swaps` makes another mode of it: there the sixth of the dorian, say, counts as that of the minor does, and the
 * other way about.
 */
export function tonicLogs(features: KeyFeatures, mode: ModeWeights, swaps: readonly Swap[]): Float64Array {
  return weighedLogs(features, FEATURE_KINDS, mode, swaps);
}

/** The same for evidence of any kinds: twelve values a kind, by pitch class from C. */
export function weighedLogs<Kind extends string>(
  features: Readonly<Record<Kind, Float64Array>>,
  kinds: readonly Kind[],
  mode: ModeWeights<Kind>,
  swaps: readonly Swap[],
): Float64Array {
  const place = placesOf(swaps);
  const logs = new Float64Array(12).fill(mode.bias);
  for (const kind of kinds) {
    const values = features[kind];
    const weights = mode.degrees[kind];
    for (let tonic = 0; tonic < 12; tonic++) {
      for (let degree = 0; degree < 12; degree++) {
        logs[tonic] += weights[place[degree]] * values[(tonic + degree) % 12];
      }
    }
  }
  return logs;
}
