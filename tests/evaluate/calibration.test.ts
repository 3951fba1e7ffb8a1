import { describe, expect, test } from 'vitest';
import { calibrationTable, claimsOf, expectedCalibrationError } from './calibration.js';

function claims(confidence: number, right: number, count: number) {
  return Array.from({ length: count }, (_, i) => ({ confidence, right: i < right }));
}

describe('calibration', () => {
  test('a worked example: ten notes at 0.95 of which nine hold, ten at 0.55 of which eight do', () => {
    const table = calibrationTable([...claims(0.95, 9, 10), ...claims(0.55, 8, 10)]);
    expect(table[9]).toEqual({
      from: 0.9,
      to: 1,
      count: 10,
      confidence: expect.closeTo(0.95, 12),
      right: 0.9,
    });
    expect(table[5]!.right).toBe(0.8);
    // 10/20·|0.95 − 0.9| + 10/20·|0.55 − 0.8| = 0.025 + 0.125.
    expect(expectedCalibrationError(table)).toBeCloseTo(0.15, 12);
  });

  test('a confidence of 1 is in the last bin, 0 in the first, and the edge 0.5 in the bin above it', () => {
    const table = calibrationTable([...claims(1, 1, 1), ...claims(0, 0, 1), ...claims(0.5, 1, 1)]);
    expect(table.map((bin) => bin.count)).toEqual([1, 0, 0, 0, 0, 1, 0, 0, 0, 1]);
  });

  test('no claims are no error', () => {
    expect(expectedCalibrationError(calibrationTable([]))).toBe(0);
  });

  test('the key is judged after the tuning is taken out, up to 50 cents, the onset up to 100 ms', () => {
    const heard = (start: number, midi: number) => ({
      start,
      end: start + 1,
      midi,
      pitch: midi + 0.3,
      confidence: 0.8,
    });
    const truth = [
      { start: 1, end: 2, pitch: 60.8 }, // 80 − 30 = 50 cents over the key: right
      { start: 3, end: 4, pitch: 60.81 }, // 51 cents: wrong
      { start: 5, end: 6, pitch: 60.3 }, // heard 100 ms late: right
      { start: 7, end: 8, pitch: 60.3 }, // heard 110 ms late: wrong
    ];
    const got = claimsOf(
      truth,
      [1, 3, 5.1, 7.11, 9].map((start) => heard(start, 60)),
      30,
    );
    // The last one is not in the truth at all: wrong.
    expect(got.map((claim) => claim.right)).toEqual([true, false, true, false, false]);
  });
});
