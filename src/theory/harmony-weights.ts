import type { HarmonyWeights } from './key-harmony.js';

/**
 * What the harmony adds to the key model, fitted by tests/train/keys/main.ts on the chords of
 * 375 melodies of POP909 (Wang et al., ISMIR 2020, MIT), as a band might sound.
 */
export const HARMONY_WEIGHTS: HarmonyWeights = {
  major: {
    bias: -0.08,
    degrees: {
      chroma: [0.16, -0.22, 0.01, 0, 0.02, -0.28, 0.09, 0.62, -0.18, -0.14, -0.24, 0.1],
      bass: [0.54, -0.02, -0.21, -0.15, -0.21, 0.67, 0.08, 0.62, -0.12, -0.43, -0.23, -0.63],
    },
  },
  minor: {
    bias: 0.09,
    degrees: {
      chroma: [0.27, -0.38, -0.21, 0.62, -0.11, 0.01, -0.07, 0.33, -0.17, -0.07, -0.31, 0.14],
      bass: [0.82, -0.17, -0.14, -0.49, -0.07, -0.02, 0.15, 0.14, -0.22, -0.16, 0.2, 0.03],
    },
  },
};
