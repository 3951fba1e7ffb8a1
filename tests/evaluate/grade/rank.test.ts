import { expect, test } from 'vitest';
import { quantile, ranks, spearman } from './rank.js';

test('equal values share a rank', () => {
  expect(ranks([3, 1, 3, 2])).toEqual([3.5, 1, 3.5, 2]);
});

test('rank correlation of known orders', () => {
  expect(spearman([1, 2, 3, 4], [10, 20, 25, 90])).toBeCloseTo(1, 12);
  expect(spearman([1, 2, 3, 4], [4, 3, 2, 1])).toBeCloseTo(-1, 12);
  // Without ties 1 − 6·Σd² / (n·(n² − 1)): d = 0, 1, 1, 0.
  expect(spearman([1, 2, 3, 4], [1, 3, 2, 4])).toBeCloseTo(1 - 12 / 60, 12);
});

test('quantiles are values that are there', () => {
  expect([0, 0.5, 1].map((share) => quantile([5, 1, 3], share))).toEqual([1, 3, 5]);
});
