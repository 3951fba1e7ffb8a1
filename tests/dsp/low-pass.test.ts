import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { lowPass } from '../../src/dsp/low-pass.js';

const RATE = 16_000;
const CUTOFF_HZ = 3000;
const sine = (hz: number, length = RATE) =>
  Float32Array.from({ length }, (_, n) => Math.sin((2 * Math.PI * hz * n) / RATE));

/** Largest difference from `gain` times the input, away from the ends. */
function worst(hz: number, gain: number, cutoffHz = CUTOFF_HZ): number {
  const x = sine(hz, 4000);
  const y = lowPass(x, RATE, cutoffHz);
  let most = 0;
  for (let n = 1000; n < 3000; n++) most = Math.max(most, Math.abs(y[n]! - gain * x[n]!));
  return most;
}

describe('lowPass', () => {
  // Equal sample for sample: neither the level nor the phase has changed, so there is no delay.
  test.each([
    [50, 0.001],
    [220, 0.001],
    [1000, 0.01],
    [2000, 0.07],
  ])('%i Hz passes unchanged and undelayed under 3 kHz, to %f', (hz, within) => {
    expect(worst(hz, 1)).toBeLessThan(within);
  });

  test.each([
    [4000, 0.07],
    [4500, 0.02],
    [5000, 0.01],
    [7900, 0.01],
  ])('%i Hz is blocked over 3 kHz, to %f', (hz, left) => {
    expect(worst(hz, 0)).toBeLessThan(left);
  });

  test.each([500, 1000, 3000, 5000])('half the amplitude is left at the cut-off of %i Hz', (cutoffHz) => {
    expect(worst(cutoffHz, 0.5, cutoffHz)).toBeLessThan(0.01);
  });

  test('a constant passes with gain 1', () => {
    const y = lowPass(new Float32Array(2000).fill(0.25), RATE, CUTOFF_HZ);
    expect(y[1000]).toBeCloseTo(0.25, 6);
  });

  test('the answer to an impulse is symmetric about it and sums to 1', () => {
    const x = new Float32Array(401);
    x[200] = 1;
    const y = lowPass(x, RATE, CUTOFF_HZ);
    expect(y.reduce((sum, v) => sum + v, 0)).toBeCloseTo(1, 6);
    for (let k = 1; k <= 200; k++) expect(y[200 - k]).toBeCloseTo(y[200 + k]!, 7);
    expect(y.indexOf(Math.max(...y))).toBe(200);
  });

  test('beyond its ends the signal counts as silence', () => {
    const random = seededRandom(3);
    const x = Float32Array.from({ length: 60 }, () => random.between(-1, 1));
    const padded = new Float32Array(260);
    padded.set(x, 100);
    const y = lowPass(x, RATE, CUTOFF_HZ);
    const wanted = lowPass(padded, RATE, CUTOFF_HZ).subarray(100, 160);
    y.forEach((value, n) => {
      expect(value).toBeCloseTo(wanted[n]!, 6);
    });
  });

  test('a signal shorter than the filter, one sample and none keep their length', () => {
    for (const length of [0, 1, 2, 5]) {
      const y = lowPass(new Float32Array(length).fill(1), RATE, CUTOFF_HZ);
      expect(y).toHaveLength(length);
      expect([...y].every(Number.isFinite)).toBe(true);
    }
  });

  test('at a cut-off from half the sample rate up, everything passes', () => {
    const x = sine(7000, 500);
    expect(lowPass(x, RATE, 8000)).toEqual(x);
    expect(lowPass(x, RATE, 12_000)).toEqual(x);
  });

  test('the input is left alone', () => {
    const x = sine(4000, 300);
    const kept = Float32Array.from(x);
    lowPass(x, RATE, CUTOFF_HZ);
    expect(x).toEqual(kept);
  });
});
