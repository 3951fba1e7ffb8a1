import { describe, expect, test } from 'vitest';
import { handPositions } from '../../src/hand/positions.js';
import type { Finger } from '../../src/hand/types.js';

function positions(midis: readonly number[], fingers: readonly Finger[]): [number, number][] {
  return handPositions(
    midis.map((midi) => ({ midi })),
    fingers,
  ).map(({ first, thumb }) => [first, thumb]);
}

describe('handPositions', () => {
  test('no notes, no positions; one note has one', () => {
    expect(positions([], [])).toEqual([]);
    expect(positions([60], [1])).toEqual([[1, 60]]);
  });

  test('five fingers on five keys are one position', () => {
    expect(positions([60, 62, 64, 65, 67, 65, 60], [1, 2, 3, 4, 5, 4, 1])).toEqual([[1, 60]]);
  });

  test('a scale moves where the thumb passes', () => {
    expect(positions([60, 62, 64, 65, 67, 69, 71, 72], [1, 2, 3, 1, 2, 3, 4, 5])).toEqual([
      [1, 60],
      [4, 65],
    ]);
  });

  test('where the thumb does not play it lies on a white key as many keys down as there are fingers', () => {
    expect(positions([64, 65], [3, 4])).toEqual([[1, 60]]);
    // Third finger on E flat: the thumb lies on C (half widths 3 − 4 = −1: below C, on B).
    expect(positions([63], [3])).toEqual([[1, 59]]);
    expect(positions([0], [5])).toEqual([[1, 0]]);
  });

  test('where a line begins just before a move, the hand moves with it', () => {
    const midis = [60, 62, 60, 67];
    const line = { start: 0, end: 1, like: null };
    const lines = [
      { ...line, first: 1, last: 2 },
      { ...line, first: 3, last: 4 },
    ];
    const fingers: Finger[] = [1, 5, 1, 4];
    const firsts = (of: typeof lines) =>
      handPositions(
        midis.map((midi) => ({ midi })),
        fingers,
        of,
      ).map(({ first }) => first);
    expect(firsts([])).toEqual([1, 4]);
    expect(firsts(lines)).toEqual([1, 3]);
    // A line that begins with a note that does not fit the new position changes nothing.
    expect(firsts([{ ...line, first: 2, last: 4 }])).toEqual([1, 4]);
  });

  test('the same finger on another key is a move, and so is a stretch beyond comfort', () => {
    expect(positions([60, 62], [2, 2])).toHaveLength(2);
    // 1-2: comfortable up to 8 semitones.
    expect(positions([60, 68], [1, 2])).toHaveLength(1);
    expect(positions([60, 69], [1, 2])).toHaveLength(2);
  });
});
