import { expect, test } from 'vitest';
import { orderOf, weightedScore } from './scores.js';

// mir_eval, key.py: weighted_score, with allow_descending_fifths.
test.each([
  ['C major for C major', 0, 0, 1],
  ['G major for C major', 7, 0, 0.5],
  ['F major for C major', 5, 0, 0.5],
  ['A minor for C major', 21, 0, 0.3],
  ['C major for A minor', 0, 21, 0.3],
  ['C minor for C major', 12, 0, 0.2],
  ['E minor for A minor', 16, 21, 0.5],
  ['E flat minor for C major', 15, 0, 0],
  ['D major for C major', 2, 0, 0],
])('%s', (_, answer, truth, score) => {
  expect(weightedScore(answer, truth)).toBe(score);
});

test('keys are ordered by value', () => {
  expect(orderOf([0.1, 0.6, 0.3])).toEqual([1, 2, 0]);
});
