import { describe, expect, test } from 'vitest';
import { ALPHABET } from '../../../src/rhythm/bars/bar-line.js';
import { rhythmsOf } from './abc.js';
import { barLineTable } from './bar-line-table.js';
import { encodeTable, tableOf } from './table.js';

const TUNE = `
X:1
T: A pickup, a dotted quarter, a tie over the bar
M: 4/4
L: 1/16
K: F
F4 | A6G2B4z4 | c8d8- | d8 ^c/2_d'/2 e,7 |
X:2
M: 3/4
L: 1/8
K: C
C2 | (3DEF G2 A2 |
`;

describe('rhythms in ABC notation', () => {
  test('onsets count from the first full bar; rests and ties begin nothing', () => {
    const [tune] = rhythmsOf(TUNE.replace("^c/2_d'/2 e,7", "^c_d'6 e,"));
    expect(tune).toEqual({
      numerator: 4,
      denominator: 4,
      onsets: [-4, 0, 6, 8, 16, 24, 40, 41, 47],
      // F major: B is b flat. C is middle C, c the octave above (the ABC standard 2.1, section 4.1).
      midi: [65, 69, 67, 70, 72, 74, 73, 85, 64],
      end: 48,
      rows: [0],
    });
  });

  test('rows of text are told apart', () => {
    const [tune] = rhythmsOf('X:1\nM: 2/4\nL: 1/8\nK: C\nC2 | D2E2 |\nF2G2 |\n z2\nA2 | B4\n');
    expect(tune!.rows).toEqual([0, 3, 5]);
  });

  test('tunes with triplets, or with anything shorter than a sixteenth, are left out', () => {
    expect(rhythmsOf(TUNE)).toEqual([]);
  });
});

describe('tables', () => {
  test('are relative counts, a little smoothed, of first, last and following notes', () => {
    const quarters = Array.from({ length: 400 }, (_, i) => 4 * i);
    const table = tableOf([quarters, quarters], 16);
    expect(Math.exp(table.first[0]!)).toBeCloseTo(2.5 / 10, 9);
    // 1600 quarters end on the fourth beat of their bar.
    expect(Math.exp(table.last[12]!)).toBeCloseTo(2.5 / 10, 9);
    expect(Math.exp(table.next[4]![3]!)).toBeGreaterThan(0.98);
    for (const row of table.next) {
      expect(row.reduce((sum, value) => sum + Math.exp(value), 0)).toBeCloseTo(1, 9);
    }
  });

  test('are coded in letters, A for certainty', () => {
    const rows = encodeTable({ first: [0, -0.3], last: [-0.15, -99], next: [[-1.5]] });
    expect(rows).toEqual(['AC', 'B9', 'K']);
  });
});

describe('tables of the bar line', () => {
  test('are log probabilities of intervals and log odds of motions, a row a place', () => {
    // Bars of three quarters, up a step to the first beat and down a skip from it.
    const count = 300;
    const onsets = Array.from({ length: count }, (_, i) => 4 * i);
    const midi = onsets.map((_, i) => 60 + [4, 1, 2][i % 3]!);
    const [first, last, ...rows] = barLineTable([{ onsets, midi }], 12);
    expect(rows).toHaveLength(12);
    expect(rows.every((row) => row.length === 10 * 9 + 9 * 7)).toBe(true);
    expect([first!.length, last!.length]).toEqual([12, 12]);
    // The interval after a quarter is a quarter all but surely (A stands for probability 1)…
    expect(rows[0]!.slice(3 * 9 + 3, 3 * 9 + 4)).toMatch(/[AB]/);
    // …and a step up comes to a first beat more often than anywhere (letters after f, the middle).
    const motions = rows[0]!.slice(90 + 3 * 7, 90 + 4 * 7);
    expect(ALPHABET.indexOf(motions[1]!)).toBeGreaterThan(ALPHABET.indexOf('f'));
    expect(ALPHABET.indexOf(motions[4]!)).toBeLessThan(ALPHABET.indexOf('f'));
  });
});
