import { describe, expect, test } from 'vitest';
import { rhythmsOf } from './abc.js';
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
      end: 48,
    });
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
