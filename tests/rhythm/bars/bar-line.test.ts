import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { barLineScores, intervalClass, motionClass } from '../../../src/rhythm/bars/bar-line.js';

/** Hot Cross Buns (English street cry, printed 1767), from memory: sixteenths and pitches. */
const BUNS: readonly (readonly [number, number])[] = [
  ...[0, 4, 8].map((at, i) => [at, [64, 62, 60][i]!] as const),
  ...[16, 20, 24].map((at, i) => [at, [64, 62, 60][i]!] as const),
  ...[32, 34, 36, 38, 40, 42, 44, 46].map((at, i) => [at, i < 4 ? 60 : 62] as const),
  ...[48, 52, 56].map((at, i) => [at, [64, 62, 60][i]!] as const),
];
const positions = BUNS.map(([at]) => at);
const midi = BUNS.map(([, pitch]) => pitch);
const best = (scores: Float64Array) => scores.indexOf(Math.max(...scores));

describe('barLineScores', () => {
  test('the bars of a nursery tune are found where it is printed', () => {
    expect(best(barLineScores(positions, midi, 4, 4)!)).toBe(0);
  });

  test('a tune that is counted from elsewhere has its bar lines moved with it, and no key matters', () => {
    const scores = barLineScores(positions, midi, 4, 4)!;
    fc.assert(
      fc.property(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -12, max: 12 }), (later, up) => {
        const moved = barLineScores(
          positions.map((at) => at + later),
          midi.map((pitch) => pitch + up),
          4,
          4,
        )!;
        scores.forEach((score, shift) => {
          expect(moved[(((shift - later) % 16) + 16) % 16]).toBeCloseTo(score, 9);
        });
      }),
      { numRuns: 20 },
    );
  });

  test('there is a score for every sixteenth of the bar, and none for a metre that was not counted', () => {
    for (const [beats, unit, sixteenths] of [
      [2, 4, 8],
      [3, 4, 12],
      [6, 8, 12],
      [4, 4, 16],
    ] as const) {
      const scores = barLineScores(positions, midi, beats, unit)!;
      expect(scores).toHaveLength(sixteenths);
      expect([...scores].every(Number.isFinite)).toBe(true);
    }
    expect(barLineScores(positions, midi, 5, 4)).toBeNull();
    expect(barLineScores([0], [60], 4, 4)).toBeNull();
  });
});

describe('classes', () => {
  test('intervals by their limits', () => {
    expect([0, 1, 2, 5, 6, 7, 16, 17, 400].map(intervalClass)).toEqual([0, 0, 1, 4, 4, 5, 7, 8, 8]);
  });

  test('motions by their size and direction', () => {
    expect([0, 1, -2, 3, -4, 5, -12].map(motionClass)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });
});
