import type { HarmonyWeights } from './key-harmony.js';

/**
 * What the harmony adds to the key model, fitted by tests/train/keys/main.ts on the chords of
 * 375 melodies of POP909 (Wang et al., ISMIR 2020, MIT), as a band might sound.
 */
export const HARMONY_WEIGHTS: HarmonyWeights = {
  major: {
    bias: -0.07,
    degrees: {
      chroma: [0.15, -0.21, -0.02, 0.04, -0.01, -0.23, 0.12, 0.6, -0.15, -0.15, -0.26, 0.1],
      bass: [0.48, -0.03, -0.21, -0.12, -0.22, 0.71, 0.09, 0.62, -0.1, -0.46, -0.23, -0.6],
    },
  },
  minor: {
    bias: 0.08,
    degrees: {
      chroma: [0.25, -0.38, -0.16, 0.55, -0.1, 0.01, -0.06, 0.31, -0.21, -0.05, -0.25, 0.11],
      bass: [0.79, -0.18, -0.07, -0.51, -0.06, -0.03, 0.15, 0.15, -0.24, -0.16, 0.22, 0.01],
    },
  },
};
