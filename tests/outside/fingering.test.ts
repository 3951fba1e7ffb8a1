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

/**
 * Right-hand fingers of the scales, one octave and two, upwards; downwards the same ones backwards. Hanon, The Virtuoso
 * Pianist, 1873, no. 39, and the method books after it; majors from a table of all twelve that two others agree with,
 * harmonic minors likewise; the natural minors share theirs (common practice). By tonic, in semitones from C.
 */
const MAJORS: Readonly<Record<number, readonly [string, string]>> = {
  0: ['12312345', '123123412312345'],
  7: ['12312345', '123123412312345'],
  2: ['12312345', '123123412312345'],
  9: ['12312345', '123123412312345'],
  4: ['12312345', '123123412312345'],
  11: ['12312345', '123123412312345'],
  5: ['12341234', '123412312341234'],
  10: ['41231234', '412312341231234'],
  3: ['31234123', '312341231234123'],
  8: ['34123123', '341231234123123'],
  1: ['23123412', '231234123123412'],
  6: ['23412312', '234123123412312'],
};
const MINORS: Readonly<Record<number, readonly [string, string]>> = {
  9: ['12312345', '123123412312345'],
  4: ['12312345', '123123412312345'],
  11: ['12312345', '123123412312345'],
  2: ['12312345', '123123412312345'],
  7: ['12312345', '123123412312345'],
  0: ['12312345', '123123412312345'],
  5: ['12341234', '123412312341234'],
  6: ['34123123', '341231234123123'],
  1: ['34123123', '341231234123123'],
  8: ['34123123', '341231234123123'],
  3: ['31234123', '312341231234123'],
  10: ['41231234', '412312341231234'],
};

describe('scales (Hanon, The Virtuoso Pianist, 1873, no. 39, and the method books after it)', () => {
  const kinds = [
    { kind: 'major', steps: [0, 2, 4, 5, 7, 9, 11], table: MAJORS },
    { kind: 'natural minor', steps: [0, 2, 3, 5, 7, 8, 10], table: MINORS },
    { kind: 'harmonic minor', steps: [0, 2, 3, 5, 7, 8, 11], table: MINORS },
  ];
  for (const { kind, steps, table } of kinds) {
    for (const octaves of [1, 2] as const) {
      test.each(Object.keys(table).map(Number))(`${kind} on %i, ${octaves} octaves`, (tonic) => {
        const root = 54 + ((tonic + 6) % 12);
        const up = Array.from(
          { length: 7 * octaves + 1 },
          (_, k) => root + 12 * Math.floor(k / 7) + steps[k % 7]!,
        );
        const expected = [...table[tonic]![octaves - 1]!].join(' ');
        expect(fingers(up)).toBe(expected);
        const back = expected.split(' ').reverse().join(' ');
        expect(fingers(up.toReversed())).toBe(back);
        // Up and down in one go, and inside a tune.
        expect(fingers([...up, ...up.toReversed().slice(1)])).toBe(`${expected}${back.slice(1)}`);
        const within = fingers([root + 7, ...up]).slice(2);
        // A black key before the first thumb may take another finger where the tune comes from elsewhere.
        const thumb = expected.indexOf('1');
        expect(within.slice(thumb)).toBe(expected.slice(thumb));
      });
    }
  }
});

describe('handbook fingering (Hanon, The Virtuoso Pianist, 1873, no. 39, and every method book)', () => {
  test('five fingers on five keys', () => {
    expect(fingers([60, 62, 64, 65, 67])).toBe('1 2 3 4 5');
    expect(fingers([67, 69, 71, 72, 74, 72, 71, 69, 67])).toBe('1 2 3 4 5 4 3 2 1');
  });
});
