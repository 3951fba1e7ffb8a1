/** Fits what the harmony adds to what the melody tells. */

import { keyFeatures } from '../../../src/theory/key-features.js';
import {
  HARMONY_KINDS,
  type HarmonyEvidence,
  type HarmonyWeights,
  harmonyFeatures,
} from '../../../src/theory/key-harmony.js';
import { FRAMES } from '../../../src/theory/key-kinds.js';
import { type KeyWeights, tonicLogs } from '../../../src/theory/key-model.js';
import { fitKeys } from './fit.js';
import type { Song } from './songs.js';

/** The pull of the weights towards 0; 2, 6 and 20 were tried by the folds. */
const PULL = 2;

/** Weights of the harmony beside those of the melody, which stay as they are; songs without harmony are left out. */
export function harmonyWeightsFrom(
  songs: readonly Song[],
  harmonies: ReadonlyMap<string, HarmonyEvidence>,
  weights: KeyWeights,
): HarmonyWeights {
  const examples = songs.flatMap(({ id, key, notes }) => {
    const harmony = harmonies.get(id);
    if (harmony === undefined) return [];
    const features = keyFeatures(notes);
    const logs = (base: 'major' | 'minor') =>
      FRAMES[base].map(({ swaps }) => tonicLogs(features, weights[base], swaps));
    return [
      {
        features: harmonyFeatures(harmony),
        before: { major: logs('major'), minor: logs('minor') },
        tonic: key % 12,
        base: key < 12 ? ('major' as const) : ('minor' as const),
        frame: null,
        share: 1,
      },
    ];
  });
  return fitKeys(examples, HARMONY_KINDS, PULL);
}
