/**
 * Fingering against the published table and the handbooks.
 * Parncutt, Sloboda, Clarke, Raekallio & Desain, Music Perception 14(4), 1997, table 1, here as transcribed in
 * later work; two transcriptions give 11 for the relaxed maximum of thumb and little finger, the rest 10.
 */
import { describe, expect, test } from 'vitest';
import { fingerRightHand } from '../../src/hand/fingering.js';
import { spanTable } from '../../src/hand/spans.js';

function fingers(midis: readonly number[]): string {
  const notes = midis.map((midi, i) => ({ midi, start: i / 2, end: i / 2 + 0.45 }));
  return fingerRightHand(notes, { hand: 'medium' }).join(' ');
}

describe('span table', () => {
  const spans = spanTable('medium');

  test('spot checks of table 1', () => {
    expect(spans(1, 2)).toEqual({ minPrac: -5, minComf: -3, minRel: 1, maxRel: 5, maxComf: 8, maxPrac: 10 });
    expect(spans(1, 5)).toEqual({ minPrac: -1, minComf: 1, minRel: 7, maxRel: 10, maxComf: 13, maxPrac: 15 });
    expect(spans(2, 4)).toEqual({ minPrac: 1, minComf: 1, minRel: 3, maxRel: 4, maxComf: 5, maxPrac: 7 });
    expect(spans(3, 4)).toEqual({ minPrac: 1, minComf: 1, minRel: 1, maxRel: 2, maxComf: 2, maxPrac: 4 });
  });

  test('the rules by which the table was made hold in every row', () => {
    for (let low = 1; low <= 4; low++) {
      for (let high = low + 1; high <= 5; high++) {
        const span = spans(low, high);
        expect(span.maxComf).toBe(span.maxPrac - 2);
        expect(span.minComf).toBe(low === 1 ? span.minPrac + 2 : span.minPrac);
        if (low > 1) {
          expect(span.maxRel).toBe(2 * (high - low));
          // A relaxed span is a semitone wide; fingers next to each other start at 1 all the same.
          expect(span.minRel).toBe(span.maxRel - 1);
        }
      }
    }
  });
});

describe('handbook fingering (Hanon, The Virtuoso Pianist, 1873, no. 39, and every method book)', () => {
  test('five fingers on five keys', () => {
    expect(fingers([60, 62, 64, 65, 67])).toBe('1 2 3 4 5');
    expect(fingers([67, 69, 71, 72, 74, 72, 71, 69, 67])).toBe('1 2 3 4 5 4 3 2 1');
  });

  test('C major, one octave up', () => {
    expect(fingers([60, 62, 64, 65, 67, 69, 71, 72])).toBe('1 2 3 1 2 3 4 5');
  });
});
