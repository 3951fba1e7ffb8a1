import { expect, test } from 'vitest';
import { repeatedLine } from '../../../src/rhythm/lines/likeness.js';

const tune = [60, 62, 64, 65, 67, 65, 64, 62];
const other = [60, 67, 60, 67, 69, 72, 59, 71];

test('a line repeats the earlier one that is nearest, in any key', () => {
  expect(repeatedLine([tune, other, tune], 2)).toBe(1);
  expect(repeatedLine([other, tune, tune.map((m) => m + 3)], 2)).toBe(2);
  expect(repeatedLine([tune, other], 1)).toBeNull();
  expect(repeatedLine([tune], 0)).toBeNull();
});

test('up to two notes may differ in a line of eight, one in a shorter one', () => {
  const changed = (...at: number[]): number[] => tune.map((m, i) => (at.includes(i) ? m + 10 : m));
  expect(repeatedLine([tune, changed(3)], 1)).toBe(1);
  expect(repeatedLine([tune, changed(3, 6)], 1)).toBe(1);
  expect(repeatedLine([tune, changed(1, 3, 6)], 1)).toBeNull();
  const short = tune.slice(0, 5);
  expect(repeatedLine([short, changed(2).slice(0, 5)], 1)).toBe(1);
  expect(repeatedLine([short, changed(1, 3).slice(0, 5)], 1)).toBeNull();
});

test('a note more or less counts as one difference', () => {
  expect(repeatedLine([tune, [...tune.slice(0, 4), ...tune.slice(5)]], 1)).toBe(1);
  expect(repeatedLine([tune, [55, ...tune]], 1)).toBe(1);
});

test('fewer than four notes repeat nothing', () => {
  expect(
    repeatedLine(
      [
        [60, 62, 64],
        [60, 62, 64],
      ],
      1,
    ),
  ).toBeNull();
});
