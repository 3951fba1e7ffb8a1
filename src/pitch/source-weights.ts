import type { SourceWeights } from './source.js';

/** Weights of the decision between solo and mix, fitted by tests/train/source/main.ts. */
export const SOURCE_WEIGHTS: SourceWeights = {
  bias: -0.5,
  inputs: {
    unexplained: { weight: 1.8, middle: -1.9 },
    otherTones: { weight: 1.6, middle: -3.2 },
    below: { weight: 0.9, middle: -3.5 },
    pauseDb: { weight: 0.9, middle: -2 },
  },
};
