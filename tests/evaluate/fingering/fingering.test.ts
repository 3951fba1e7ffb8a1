import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { spanTable } from '../../../src/hand/spans.js';
import { foldsOf, type Part, readParts, scoredNotes } from '../../train/hand/parts.js';
import { countHmm, hmmMerits } from './finger-hmm.js';
import { crossHits, hitsOf, rateOf } from './match.js';
import { fewestBeyond } from './playable.js';
import { fingeringReport } from './report.js';

const part = (piece: string, printed: readonly (number | null)[]): Part => ({
  piece,
  book: 'book',
  notes: printed.map((_, i) => ({ midi: 60 + i, start: i, end: i + 1 })),
  printed,
});

describe('printed parts', () => {
  test('only runs of five and more fingered notes are scored', () => {
    expect(scoredNotes([1, 2, 3, 4, null, 1, 2, 3, 4, 5])).toEqual([5, 6, 7, 8, 9]);
    expect(scoredNotes([1, 2, 3, 4])).toEqual([]);
    const five = part('a', [1, 2, 3, 4, 5]);
    expect(hitsOf(five, [1, 2, 3, 1, 2])).toEqual({ hits: 3, notes: 5 });
    expect(
      rateOf([
        { hits: 3, notes: 5 },
        { hits: 1, notes: 3 },
      ]),
    ).toBe(0.5);
  });

  test('no piece is in two folds, and nothing is learned from the parts that are scored', () => {
    const parts = ['b', 'a', 'b', 'c'].map((piece) => part(piece, [1, 2, 3, 4, 5]));
    expect(foldsOf(parts, 2)).toEqual([1, 0, 1, 0]);
    const seen: string[][] = [];
    crossHits(parts, [1, 0, 1, 0], (train) => {
      seen.push(train.map(({ piece }) => piece));
      return () => [1, 2, 3, 4, 5];
    });
    expect(seen).toEqual([
      ['a', 'c'],
      ['b', 'b'],
    ]);
  });

  test('are read in seconds at 100 beats a minute; lessons of a book are one piece', () => {
    const root = mkdtempSync(join(tmpdir(), 'fingering-'));
    try {
      expect(readParts(root)).toBeNull();
      expect(fingeringReport(root)).toBeNull();
      mkdirSync(join(root, 'fingering'));
      const raw = ['v1', 'v3'].map((part) => ({
        piece: `ClementiOp42__clementi-op42-lyt-L34-cramer-${part}`,
        notes: [[0.25, 0.5, 60, 1]],
      }));
      writeFileSync(join(root, 'fingering', 'right-hand.json'), JSON.stringify(raw));
      const [first, second] = readParts(root)!;
      expect(first!.notes).toEqual([{ midi: 60, start: 0.6, end: 1.7999999999999998 }]);
      expect([first!.piece, first!.book]).toEqual([second!.piece, 'ClementiOp42']);
    } finally {
      rmSync(root, { recursive: true });
    }
  });
});

test('pairs beyond the span that no fingering avoids are counted', () => {
  const strokes = (midis: readonly number[], rest = -1) =>
    midis.map((midi, i) => ({ midi, afterRest: i === rest }));
  const spans = spanTable('medium');
  expect(fewestBeyond(strokes([60, 75]), spans)).toBe(0);
  expect(fewestBeyond(strokes([60, 76]), spans)).toBe(1);
  // Two tenths up in a row: the first puts the little finger where the second needs the thumb.
  expect(fewestBeyond(strokes([60, 75, 90]), spans)).toBe(1);
  expect(fewestBeyond(strokes([60, 75, 90], 2), spans)).toBe(0);
});

test('the hidden Markov model has learned what it was shown', () => {
  const strokes = [60, 62, 64].map((midi) => ({ midi, afterRest: false }));
  const hmm = countHmm([{ strokes, printed: [1, 2, 3] }]);
  const { last } = hmmMerits(strokes, hmm);
  // From finger 1 to finger 2, index 1: likelier a whole tone up than from 2 to 1, index 5.
  expect(last[25 + 1]).toBeGreaterThan(last[25 + 5]!);
  // Each group of shares sums to one.
  expect(hmm.second.subarray(0, 5).reduce((sum, value) => sum + Math.exp(value), 0)).toBeCloseTo(1);
});
