import { describe, expect, test } from 'vitest';
import {
  fingerCost,
  isPlayable,
  pairCost,
  positionCost,
  spanCost,
  threeFourFiveCost,
} from '../../src/hand/rules.js';
import { spanTable } from '../../src/hand/spans.js';

const spans = spanTable('medium');
const [C, D, E, F, FIS, G, A, C5] = [60, 62, 64, 65, 66, 67, 69, 72] as const;

// Worked by hand from the published table and points (Parncutt et al. 1997).
describe('the twelve rules', () => {
  test('1 to 3: within the relaxed span a pair costs nothing, beyond it by the semitone', () => {
    expect(spanCost(spans, 1, C, 2, D)).toBe(0);
    // 1-2 over an octave: 12 − MaxRel 5 = 7 once, 12 − MaxComf 8 = 4 twice.
    expect(spanCost(spans, 1, C, 2, C5)).toBe(7 + 8);
    // 3-4 over a minor third: 3 − MaxRel 2 = 1 twice (no thumb), 3 − MaxComf 2 = 1 twice.
    expect(spanCost(spans, 3, E, 4, G)).toBe(2 + 2);
    // Downwards the same pair costs the same.
    expect(spanCost(spans, 4, G, 3, E)).toBe(4);
    // 1-5 on neighbouring keys: MinRel 7 − 2 = 5 once; MinComf 1 is kept.
    expect(spanCost(spans, 1, C, 5, D)).toBe(5);
  });

  test('4 and 5: passing the thumb under is a full change, a small shift half of one', () => {
    // 3-1-3 on E F A: 3 on E and again on A; distance 5 against a span of 0.
    expect(positionCost(spans, 3, E, 1, F, 3, A)).toBe(2 + 5);
    // 2-3-1 on D E F: thumb 3 semitones above the second finger is within comfort (−3).
    expect(positionCost(spans, 2, D, 3, E, 1, F)).toBe(0);
    // 1-3-2 on C D A: 9 semitones by 1-2, one beyond comfort, the middle note not the thumb's.
    expect(positionCost(spans, 1, C, 3, D, 2, A)).toBe(1 + 1);
  });

  test('6, 10 and 11: weak fingers, thumb and little finger on black', () => {
    expect([1, 2, 3, 4, 5].map((f) => fingerCost(f, C, null, null))).toEqual([0, 0, 0, 1, 1]);
    expect(fingerCost(1, FIS, E, G)).toBe(5);
    expect(fingerCost(1, FIS, 68, 68)).toBe(1);
    expect(fingerCost(5, FIS, 68, 68)).toBe(1);
    expect(fingerCost(5, FIS, E, 68)).toBe(3);
    expect(fingerCost(3, FIS, E, G)).toBe(0);
  });

  test('7: three, four and five in any order', () => {
    expect(threeFourFiveCost(3, 4, 5)).toBe(1);
    expect(threeFourFiveCost(4, 3, 5)).toBe(1);
    expect(threeFourFiveCost(3, 4, 3)).toBe(0);
    expect(threeFourFiveCost(2, 3, 4)).toBe(0);
  });

  test('8, 9 and 12: three to four, four on black, thumb passing', () => {
    expect(pairCost(3, E, 4, F)).toBe(1);
    expect(pairCost(4, F, 3, E)).toBe(0);
    expect(pairCost(3, E, 4, FIS)).toBe(2);
    expect(pairCost(4, FIS, 3, E)).toBe(1);
    expect(pairCost(3, E, 1, F)).toBe(1);
    expect(pairCost(3, E, 1, FIS)).toBe(3);
    expect(pairCost(3, FIS, 1, G)).toBe(0);
    expect(pairCost(1, C, 3, E)).toBe(0);
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
