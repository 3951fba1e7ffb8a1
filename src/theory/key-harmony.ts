/** What the chords and the bass under a melody tell about its key. */
import { type ModeWeights, type Swap, weighedLogs } from './key-model.js';

/** Which pitch classes sound, twelve shares from C up that add up to 1; all 0 where nothing is known. */
export interface HarmonyEvidence {
  readonly chroma: readonly number[];
  /** Of the lowest voice. */
  readonly bass: readonly number[];
}

/** The kinds of evidence in the harmony, each with the factor that brings it to the size of the others. */
export const HARMONY_SCALES = {
  /** Square roots of the shares of what sounds. */
  chroma: 4,
  /** Square roots of the shares of the bass. */
  bass: 2,
} as const;

export type HarmonyKind = keyof typeof HARMONY_SCALES;

export const HARMONY_KINDS = Object.keys(HARMONY_SCALES) as HarmonyKind[];

export type HarmonyFeatures = Readonly<Record<HarmonyKind, Float64Array>>;

export interface HarmonyWeights {
  readonly major: ModeWeights<HarmonyKind>;
  readonly minor: ModeWeights<HarmonyKind>;
}

/** Square roots, as for the notes: what sounds softly tells keys apart too. */
export function harmonyFeatures(harmony: HarmonyEvidence): HarmonyFeatures {
  const scaled = (kind: HarmonyKind) =>
    Float64Array.from(harmony[kind], (share) => HARMONY_SCALES[kind] * Math.sqrt(share));
  return { chroma: scaled('chroma'), bass: scaled('bass') };
}

/** What the harmony adds to the log probability of each tonic 0..11 of a mode. */
export function harmonyLogs(
  features: HarmonyFeatures,
  mode: ModeWeights<HarmonyKind>,
  swaps: readonly Swap[],
): Float64Array {
  return weighedLogs(features, HARMONY_KINDS, mode, swaps);
}
