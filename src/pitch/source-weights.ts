import type { SourceWeights } from './source.js';

/** Weights of the decision between solo and mix, fitted by tests/train/source/main.ts. */
export const SOURCE_WEIGHTS: SourceWeights = {
  bias: -0.4348,
  inputs: {
    unexplained: { weight: 1.0301, middle: -1.9296 },
    otherTones: { weight: 2.4743, middle: -3.3419 },
    below: { weight: 0.5006, middle: -3.6349 },
    pauseDb: { weight: 1.2193, middle: -1.6052 },
  },
};
