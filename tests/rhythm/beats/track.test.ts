import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { countAt, rescale, secondsAt, steadyTrack } from '../../../src/rhythm/beats/track.js';

const bent = { seconds: [0, 1, 3], counts: [10, 12, 13] };

describe('track', () => {
  test('runs straight between its knots and on beyond them', () => {
    expect([-1, 0, 0.5, 1, 2, 3, 5].map((s) => countAt(bent, s))).toEqual([8, 10, 11, 12, 12.5, 13, 14]);
  });

  test('counts and seconds are each other reversed, on a bent track and a steady one', () => {
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (seconds) => {
        for (const track of [bent, steadyTrack(2.5, 7, -3), rescale(bent, 4, 2)]) {
          expect(secondsAt(track, countAt(track, seconds))).toBeCloseTo(seconds, 9);
        }
      }),
    );
  });

  test('rescaling multiplies, then moves', () => {
    expect(countAt(rescale(bent, 2, 1), 1)).toBe(25);
  });
});
