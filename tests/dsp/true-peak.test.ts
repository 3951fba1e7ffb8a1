import { describe, expect, test } from 'vitest';
import { truePeak } from '../../src/dsp/true-peak.js';

describe('the true peak', () => {
  test('of a sine at a quarter of the rate, sampled 45° off its crests, is its amplitude', () => {
    // Samples are ±0.707 only: the case that ITU-R BS.1770-5, Annex 2, gives for the need of it.
    const sine = Float32Array.from({ length: 400 }, (_, n) => Math.sin((Math.PI * n) / 2 + Math.PI / 4));
    expect(Math.max(...sine)).toBeCloseTo(Math.SQRT1_2, 6);
    expect(20 * Math.log10(truePeak(sine.subarray(0)))).toBeGreaterThan(-0.2);
  });

  test('of a slow sine is its amplitude, and of nothing 0', () => {
    const sine = Float32Array.from(
      { length: 4410 },
      (_, n) => 0.5 * Math.sin((2 * Math.PI * 440 * n) / 44_100),
    );
    expect(truePeak(sine)).toBeCloseTo(0.5, 3);
    expect(truePeak(new Float32Array(100))).toBe(0);
  });
});
