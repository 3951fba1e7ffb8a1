/** What the page's script works out, without a browser. */
import { describe, expect, test } from 'vitest';
import { nextStep } from '../../../src/write/sheet/page/next-step.js';
import { noteAt, passOf } from '../../../src/write/sheet/page/passes.js';

const lines = [
  { first: 1, last: 2, like: null },
  { first: 3, last: 4, like: null },
  { first: 5, last: 6, like: 1 },
];

describe('what comes next', () => {
  test.each([
    [[], 1, 'Begin with line 1'],
    [[2], 1, 'Next: line 1'],
    [[1], 3, 'like line 1'],
    [[1, 3], 2, 'lines 1 and 2 after each other'],
    [[1, 2, 3], null, 'whole song'],
  ])('with the lines %j learnt, it is line %j', (learnt, line, words) => {
    const next = nextStep(lines, new Set(learnt));
    expect(next.line).toBe(line);
    expect(next.words).toContain(words);
  });
});

describe('a pass', () => {
  const times = [
    [1, 1.4],
    [1.5, 1.9],
    [3, 3.4],
    [3.4, 3.9],
    [5, 5.5],
    [5.5, 6],
  ] as const;
  const counts = lines.map(() => ({ beatSeconds: 0.5, clicks: 4, lastClickSeconds: 0.5, beatsPerBar: 4 }));

  test('of a line starts at its first note and ends after its last', () => {
    expect(passOf({ times, lines, counts }, 2, false)).toEqual({
      first: 3,
      last: 4,
      start: 3,
      end: 4.5,
      clicks: [],
    });
  });

  test('of the song goes from the first note to the last', () => {
    const pass = passOf({ times, lines, counts }, 0, false);
    expect([pass.first, pass.last]).toEqual([1, 6]);
  });

  test('is counted in beat by beat', () => {
    expect(passOf({ times, lines, counts }, 2, true).clicks).toEqual([
      { before: 2, isFirst: true },
      { before: 1.5, isFirst: false },
      { before: 1, isFirst: false },
      { before: 0.5, isFirst: false },
    ]);
  });

  test('is not counted in where no beat is known', () => {
    expect(passOf({ times, lines, counts: null }, 2, true).clicks).toEqual([]);
  });

  test('has one note sounding, or none', () => {
    const pass = { first: 3, last: 4 };
    expect([2.9, 3, 3.39, 3.4, 3.95].map((seconds) => noteAt(times, pass, seconds))).toEqual([0, 3, 3, 4, 0]);
  });
});
