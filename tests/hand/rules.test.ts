import { describe, expect, test } from 'vitest';
import { fingerPoints, isPlayable, pairPoints, turnPoints } from '../../src/hand/rules.js';
import { spanTable } from '../../src/hand/spans.js';

const spans = spanTable('medium');
const [C, D, E, F, FIS, G, A, C5] = [60, 62, 64, 65, 66, 67, 69, 72] as const;

const sum = (points: readonly number[]): number => points.reduce((a, b) => a + b, 0);

/** Stretch, small span, large span. */
function span(f1: number, m1: number, f2: number, m2: number): number[] {
  return pairPoints(spans, f1, m1, f2, m2).slice(0, 3);
}

/** Three to four, four on black, thumb passing. */
function pair(f1: number, m1: number, f2: number, m2: number): number[] {
  return pairPoints(spans, f1, m1, f2, m2).slice(3);
}

// Worked by hand from the published table and points (Parncutt et al. 1997).
describe('the twelve rules', () => {
  test('1 to 3: within the relaxed span a pair costs nothing, beyond it by the semitone', () => {
    expect(span(1, C, 2, D)).toEqual([0, 0, 0]);
    // 1-2 over an octave: 12 − MaxComf 8 = 4 twice; 12 − MaxRel 5 = 7 once.
    expect(span(1, C, 2, C5)).toEqual([8, 0, 7]);
    // 3-4 over a minor third: 3 − MaxComf 2 = 1 twice; 3 − MaxRel 2 = 1 twice (no thumb).
    expect(span(3, E, 4, G)).toEqual([2, 0, 2]);
    // Downwards the same pair costs the same.
    expect(span(4, G, 3, E)).toEqual([2, 0, 2]);
    // 1-5 on neighbouring keys: MinRel 7 − 2 = 5 once; MinComf 1 is kept.
    expect(span(1, C, 5, D)).toEqual([0, 5, 0]);
  });

  test('4 and 5: passing the thumb under is a full change, a small shift half of one', () => {
    // 3-1-3 on E F A: 3 on E and again on A; distance 5 against a span of 0.
    expect(turnPoints(spans, 3, E, 1, F, 3, A)).toEqual([2, 5, 0]);
    // 2-3-1 on D E F: thumb 3 semitones above the second finger is within comfort (−3).
    expect(turnPoints(spans, 2, D, 3, E, 1, F)).toEqual([0, 0, 0]);
    // 1-3-2 on C D A: 9 semitones by 1-2, one beyond comfort, the middle note not the thumb's.
    expect(turnPoints(spans, 1, C, 3, D, 2, A)).toEqual([1, 1, 0]);
  });

  test('6, 10 and 11: weak fingers, thumb and little finger on black', () => {
    expect([1, 2, 3, 4, 5].map((f) => sum(fingerPoints(f, C, null, null)))).toEqual([0, 0, 0, 1, 1]);
    expect(fingerPoints(1, FIS, E, G)).toEqual([0, 5, 0]);
    expect(fingerPoints(1, FIS, 68, 68)).toEqual([0, 1, 0]);
    expect(fingerPoints(5, FIS, 68, 68)).toEqual([1, 0, 0]);
    expect(fingerPoints(5, FIS, E, 68)).toEqual([1, 0, 2]);
    expect(fingerPoints(3, FIS, E, G)).toEqual([0, 0, 0]);
  });

  test('7: three, four and five in any order', () => {
    const third = (f1: number, f2: number, f3: number) => turnPoints(spans, f1, C, f2, D, f3, E)[2];
    expect(third(3, 4, 5)).toBe(1);
    expect(third(4, 3, 5)).toBe(1);
    expect(third(3, 4, 3)).toBe(0);
    expect(third(2, 3, 4)).toBe(0);
  });

  test('8, 9 and 12: three to four, four on black, thumb passing', () => {
    expect(pair(3, E, 4, F)).toEqual([1, 0, 0]);
    expect(pair(4, F, 3, E)).toEqual([0, 0, 0]);
    expect(pair(3, E, 4, FIS)).toEqual([1, 1, 0]);
    expect(pair(4, FIS, 3, E)).toEqual([0, 1, 0]);
    expect(pair(3, E, 1, F)).toEqual([0, 0, 1]);
    expect(pair(3, E, 1, FIS)).toEqual([0, 0, 3]);
    expect(pair(3, FIS, 1, G)).toEqual([0, 0, 0]);
    expect(pair(1, C, 3, E)).toEqual([0, 0, 0]);
  });

  test('the practical span is the limit, and one finger spans nothing', () => {
    expect(isPlayable(spans, 1, C, 5, C + 15)).toBe(true);
    expect(isPlayable(spans, 1, C, 5, C + 16)).toBe(false);
    expect(isPlayable(spanTable('large'), 1, C, 5, C + 16)).toBe(true);
    expect(isPlayable(spanTable('small'), 1, C, 5, C + 15)).toBe(false);
    expect(isPlayable(spans, 2, C, 2, D)).toBe(false);
    expect(isPlayable(spans, 4, E, 3, F)).toBe(false);
  });
});
