import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { medianOf, middleOf, weightedMedian } from '../../src/dsp/median.js';

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 20 });

describe('middle values', () => {
  test('of an odd number the one in the middle, of an even one the mean or the upper', () => {
    expect(medianOf([9, 1, 10])).toBe(9);
    expect(medianOf([9, 1, 10, 4])).toBe(6.5);
    expect(middleOf([9, 1, 10])).toBe(9);
    expect(middleOf([9, 1, 10, 4])).toBe(9);
    expect(middleOf(Float64Array.of(10, 9))).toBe(10);
    expect(middleOf([])).toBeUndefined();
  });

  test('leave what they are given as it was', () => {
    const given = [3, 1, 2];
    medianOf(given);
    middleOf(given);
    expect(given).toEqual([3, 1, 2]);
  });

  test('as many values lie below as above', () => {
    fc.assert(
      fc.property(values, (list) => {
        for (const middle of [medianOf(list), middleOf(list)!]) {
          expect(list.filter((value) => value < middle).length).toBeLessThanOrEqual(list.length / 2);
          expect(list.filter((value) => value > middle).length).toBeLessThanOrEqual(list.length / 2);
        }
      }),
    );
  });

  test('by weight: half of it lies on either side', () => {
    const weighted = (...pairs: [number, number][]) =>
      weightedMedian(pairs.map(([value, weight]) => ({ value, weight })));
    expect(weighted([1, 1], [2, 1], [3, 5])).toBe(3);
    expect(weighted([3, 1], [1, 3], [2, 1])).toBe(1);
    expect(weighted([7, 0.1])).toBe(7);
  });
});
