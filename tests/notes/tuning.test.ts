import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { tuningOf } from '../../src/notes/tuning.js';

/** Difference in semitones the short way round: tunings of −0.5 and 0.5 are the same. */
const apart = (a: number, b: number) => Math.abs(a - b - Math.round(a - b));
const ones = (pitches: readonly number[]) => pitches.map(() => 1);

describe('tuningOf', () => {
  test('notes that lie alike, on whatever keys', () => {
    expect(tuningOf([60.1, 62.1, 71.1], [1, 2, 3])).toBeCloseTo(0.1, 9);
    expect(tuningOf([59.8, 63.8], [1, 1])).toBeCloseTo(-0.2, 9);
  });

  test('the mean of two that lie near, and a weighted mean by hand', () => {
    expect(tuningOf([60.1, 64.3], [1, 1])).toBeCloseTo(0.2, 9);
    // Unit vectors at 72° (twice as long) and 0°: (2·cos 72° + 1, 2·sin 72°) = (1.6180, 1.9021), at 49.6134°.
    expect(tuningOf([60.2, 60], [2, 1])).toBeCloseTo(49.6134 / 360, 5);
  });

  test('half-way pitches are half-way, from whichever side: the mean does not fall to 0', () => {
    expect(apart(tuningOf([60.48, 62.52], [1, 1]), 0.5)).toBeCloseTo(0, 9);
    expect(tuningOf([60.45, 62.53], [1, 1])).toBeCloseTo(0.49, 9);
    expect(tuningOf([60.47, 62.55], [1, 1])).toBeCloseTo(-0.49, 9);
  });

  test('no notes are in tune', () => {
    expect(tuningOf([], [])).toBe(0);
  });

  // Pitches within 0.4 semitones of one tuning, so that the mean has a direction.
  const cluster = fc
    .tuple(
      fc.double({ min: -0.5, max: 0.5, noNaN: true }),
      fc.array(fc.tuple(fc.integer({ min: 30, max: 90 }), fc.double({ min: -0.2, max: 0.2, noNaN: true })), {
        minLength: 1,
        maxLength: 20,
      }),
    )
    .map(([tuning, notes]) => notes.map(([key, off]) => key + tuning + off));

  test('moving any note by whole keys changes nothing', () => {
    fc.assert(
      fc.property(
        cluster,
        fc.array(fc.integer({ min: -12, max: 12 }), { minLength: 20 }),
        (pitches, moves) => {
          const moved = pitches.map((p, i) => p + moves[i]!);
          expect(apart(tuningOf(moved, ones(moved)), tuningOf(pitches, ones(pitches)))).toBeLessThan(1e-6);
        },
      ),
    );
  });

  test('raising every note raises the tuning alike, round the circle, and it stays within half a semitone', () => {
    fc.assert(
      fc.property(cluster, fc.double({ min: -3, max: 3, noNaN: true }), (pitches, by) => {
        const raised = pitches.map((p) => p + by);
        const tuning = tuningOf(raised, ones(raised));
        expect(apart(tuning, tuningOf(pitches, ones(pitches)) + by)).toBeLessThan(1e-6);
        expect(Math.abs(tuning)).toBeLessThanOrEqual(0.5);
      }),
    );
  });

  test('the scale of the weights and the order of the notes do not matter', () => {
    fc.assert(
      fc.property(cluster, fc.double({ min: 0.01, max: 100, noNaN: true }), (pitches, scale) => {
        const weights = pitches.map((_, i) => 1 + i);
        const here = tuningOf(pitches, weights);
        expect(
          apart(
            tuningOf(
              pitches,
              weights.map((w) => w * scale),
            ),
            here,
          ),
        ).toBeLessThan(1e-6);
        expect(apart(tuningOf(pitches.toReversed(), weights.toReversed()), here)).toBeLessThan(1e-6);
      }),
    );
  });
});
