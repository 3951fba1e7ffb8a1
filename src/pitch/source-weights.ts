import type { SourceWeights } from './source.js';

/** Weights of the decision between solo and mix, fitted by tests/train/source/main.ts. */
export const SOURCE_WEIGHTS: SourceWeights = {
  bias: -0.3266,
  inputs: {
    unexplained: { weight: 0.861, middle: -1.8827 },
    otherTones: { weight: 2.3828, middle: -3.3373 },
    below: { weight: 0.4014, middle: -3.5412 },
    pauseDb: { weight: 1.2596, middle: -1.6072 },
  },
};
