import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rowStarts, rowsOf } from '../../../src/write/sheet/rows.js';

const piece = (width: number) => ({ x: 10, width, art: '<path d="M0 0"/>', words: '' });

describe('rows', () => {
  test('bars that fit stay in one row', () => {
    expect(rowStarts([3, 3, 3], [9, 9])).toEqual([0]);
  });

  test('eight bars that do not fit become four and four', () => {
    expect(rowStarts([2, 2, 2, 2, 2, 2, 2, 2], [15, 15])).toEqual([0, 4]);
  });

  test('the first row has less room', () => {
    expect(rowStarts([4, 4, 4, 4], [6, 12])).toEqual([0, 1]);
  });

  test('every bar is in one row, in order; no row is too wide but one of a single bar; and none more than needed', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 10, max: 60 }),
        fc.integer({ min: 0, max: 9 }),
        (widths, room, less) => {
          const starts = rowStarts(widths, [room - less, room]);
          expect(starts[0]).toBe(0);
          expect([...new Set(starts)].sort((a, b) => a - b)).toEqual(starts);
          const rows = starts.map((start, i) => widths.slice(start, starts[i + 1]));
          rows.forEach((row, i) => {
            const sum = row.reduce((a, b) => a + b, 0);
            expect(row.length === 1 || sum <= room - (i === 0 ? less : 0)).toBe(true);
          });
          // Filling every row as far as it goes needs the fewest rows.
          let [fewest, used] = [1, 0];
          for (const width of widths) {
            if (used > 0 && used + width > room - (fewest === 1 ? less : 0)) {
              fewest++;
              used = 0;
            }
            used += width;
          }
          expect(starts).toHaveLength(fewest);
        },
      ),
    );
  });

  test('a line that is a little too wide is set smaller, in one row; a wide bar alone is made to fit', () => {
    const frame = { clef: piece(1000), time: piece(0), staff: [0], lineWidth: 13 };
    const rows = (widths: readonly number[]) =>
      rowsOf(frame, { top: 0, bottom: 1000, bars: widths.map(piece) }, false, 10_000);
    expect(rows([5000, 5000])).toHaveLength(1);
    expect(rows([5000, 5000])[0]).toContain('width="10em" height="0.909em" viewBox="0 0 11000 1000"');
    expect(rows([5000, 5500])).toHaveLength(2);
    expect(rows([19_000])[0]).toContain('width="10em" height="0.5em"');
  });

  test('each row begins with the clef, the first of the song with the time signature, and states its own width', () => {
    const frame = {
      clef: { ...piece(1000), art: '<clef/>' },
      time: { ...piece(500), art: '<time/>' },
      staff: [0, 180, 360, 540, 720],
      lineWidth: 13,
    };
    const line = { top: -100, bottom: 900, bars: [piece(3000), piece(3000), piece(2000)] };
    const rows = rowsOf(frame, line, true, 7500);
    expect(rows).toHaveLength(2);
    expect(rows.map((row) => row.split('<clef/>').length - 1)).toEqual([1, 1]);
    expect(rows.map((row) => row.includes('<time/>'))).toEqual([true, false]);
    expect(rows[0]).toContain('width="4.5em" height="1em" viewBox="0 -100 4500 1000"');
    expect(rows[1]).toContain('width="6em"');
  });
});
