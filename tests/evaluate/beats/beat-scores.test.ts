import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { maximumMatching } from '../matching.js';
import { scoreBeats, tempoOf, tempoRight } from './beat-scores.js';

describe('beats', () => {
  test('one heard beat serves one known beat only', () => {
    expect(scoreBeats([1, 1.1], [1.05])).toEqual({ precision: 1, recall: 0.5, f: 2 / 3 });
  });

  test('the limit is included', () => {
    expect(scoreBeats([1.13], [1.2]).f).toBe(1);
    expect(scoreBeats([1.13], [1.2001]).f).toBe(0);
  });

  test('beats before a time are left out of both lists', () => {
    expect(scoreBeats([1, 2, 6, 7], [1.5, 6, 7], 5).f).toBe(1);
  });

  test('of nothing 0', () => {
    expect(scoreBeats([], []).f).toBe(0);
    expect(scoreBeats([1], []).f).toBe(0);
  });

  test('as many pairs as the largest matching', () => {
    const beats = fc
      .array(fc.integer({ min: 0, max: 200 }), { maxLength: 30 })
      .map((list) => [...new Set(list)].sort((a, b) => a - b).map((n) => n / 50));
    fc.assert(
      fc.property(beats, beats, (known, heard) => {
        const near = known.map((k) =>
          heard.flatMap((h, i) => (Math.round(Math.abs(h - k) * 1e7) / 1e7 <= 0.07 ? [i] : [])),
        );
        const pairs = maximumMatching(near, heard.length).length;
        const expected = pairs === 0 ? 0 : pairs / known.length;
        expect(scoreBeats(known, heard).recall).toBe(expected);
      }),
    );
  });
});

describe('tempo', () => {
  test('by the median beat', () => {
    expect(tempoOf([0, 0.5, 1, 1.5, 4])).toBe(120);
    expect(tempoOf([1])).toBeNull();
  });

  test('within 3 %, and twice or a third of it where the octave is forgiven', () => {
    expect([97, 103, 96.9, 103.1, null].map((bpm) => tempoRight(100, bpm))).toEqual([
      true,
      true,
      false,
      false,
      false,
    ]);
    expect([200, 50, 33.3, 300, 150].map((bpm) => tempoRight(100, bpm, true))).toEqual([
      true,
      true,
      true,
      true,
      false,
    ]);
  });
});
