import { expect, test } from 'vitest';
import { dither } from '../../src/audio/dither.js';

const STEP = 2 ** -15;

test('dither is at most one step, has the variance of a triangle, and leaves silence silent', () => {
  const tone = Float32Array.from({ length: 50_000 }, (_, i) => 0.3 * Math.sin(i / 20));
  const noise = Float64Array.from(dither(tone), (x, i) => (x - tone[i]!) / STEP);
  expect(Math.max(...noise.map(Math.abs).slice(0, 9999))).toBeLessThanOrEqual(1.01);
  // A triangular density from −1 to 1 has the variance 1/6.
  expect(noise.reduce((sum, x) => sum + x * x, 0) / noise.length).toBeCloseTo(1 / 6, 2);
  expect(dither(new Float32Array(10)).every((x) => x === 0)).toBe(true);
});

test('a sine of half a step survives rounding with dither, and is lost without', () => {
  const sine = Float32Array.from(
    { length: 40_000 },
    (_, i) => 0.45 * STEP * Math.sin((2 * Math.PI * i) / 100),
  );
  const heard = (samples: Float32Array) =>
    samples.reduce((sum, x, i) => sum + Math.round(x / STEP) * Math.sin((2 * Math.PI * i) / 100), 0) /
    samples.length;
  expect(heard(sine)).toBe(0);
  // The mean of the square of a sine is a half.
  expect(heard(dither(sine))).toBeCloseTo(0.45 / 2, 1);
});
