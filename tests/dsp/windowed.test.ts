import fc from 'fast-check';
import { expect, test } from 'vitest';
import { writeWindowed } from '../../src/dsp/windowed.js';

test('samples lie under their weights, and all else is 0, wherever the window stands', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: -9, max: 9 }), { maxLength: 12 }),
      fc.integer({ min: -20, max: 20 }),
      fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 8 }),
      fc.nat({ max: 4 }),
      (samples, start, window, behind) => {
        const frame = new Float64Array(window.length + behind).fill(Number.NaN);
        writeWindowed(Float32Array.from(samples), start, Float64Array.from(window), frame);
        for (const [j, value] of frame.entries()) {
          // 0 and −0 are one.
          expect(value === (window[j] ?? 0) * (samples[start + j] ?? 0)).toBe(true);
        }
      },
    ),
  );
});
