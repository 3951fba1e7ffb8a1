import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { maximumMatching } from './matching.js';
import {
  matchNotes,
  median,
  medianPitchDifference,
  type ScoredNote,
  scoreNotes,
  shiftPitch,
} from './note-scores.js';

function note(start: number, end: number, pitch: number): ScoredNote {
  return { start, end, pitch };
}

describe('maximumMatching', () => {
  test('asks a holder to move where greedy matching would lose a pair', () => {
    // Reference 0 may take 0 or 1, reference 1 only 0. Greedy gives 0 to the first and nothing to the second.
    const pairs = maximumMatching([[0, 1], [0]], 2);
    expect(pairs).toEqual([
      { reference: 0, estimate: 1 },
      { reference: 1, estimate: 0 },
    ]);
  });

  test('follows a chain of holders', () => {
    // Each of four wants its own number and the next; the last wants 0 only: all must move up by one.
    expect(maximumMatching([[0, 1], [1, 2], [2, 3], [0]], 4)).toHaveLength(4);
  });

  test('leaves over what cannot be matched', () => {
    expect(maximumMatching([[0], [0], []], 1)).toEqual([{ reference: 0, estimate: 0 }]);
    expect(maximumMatching([], 3)).toEqual([]);
  });
});

describe('scoreNotes', () => {
  test('a worked example: three true notes, four heard', () => {
    const reference = [note(1, 2, 60), note(2, 2.5, 62), note(3, 4, 64)];
    const heard = [
      note(1.04, 2.19, 60.4), // onset 40 ms, pitch 40 cents, offset 190 ms of 200 allowed: all right
      note(2.03, 2.7, 62), // offset 200 ms, allowed max(50, 0.2·500) = 100 ms: offset wrong
      note(3.02, 4, 65), // pitch wrong
      note(5, 6, 60), // spurious
    ];
    const { con, conp, conpoff } = scoreNotes(reference, heard);
    // COn: 3 of 4 heard, 3 of 3 true, F = 2·0.75·1/1.75 = 6/7. COnP: 2/4, 2/3, F = 4/7. COnPOff: 1/4, 1/3, 2/7.
    expect(con.precision).toBeCloseTo(3 / 4, 12);
    expect(con.recall).toBeCloseTo(1, 12);
    expect(con.f).toBeCloseTo(6 / 7, 12);
    expect(conp.f).toBeCloseTo(4 / 7, 12);
    expect(conpoff.f).toBeCloseTo(2 / 7, 12);
  });

  test('two true notes in reach of the same heard notes are both matched, in any order', () => {
    // Onsets 1.00 and 1.08; heard 1.04 (in reach of both) and 0.97 (of the first only).
    const reference = [note(1, 1.05, 60), note(1.08, 2, 60)];
    const heard = [note(1.04, 2, 60), note(0.97, 1.04, 60)];
    expect(scoreNotes(reference, heard).con.f).toBe(1);
    expect(scoreNotes([...reference].reverse(), [...heard].reverse()).con.f).toBe(1);
  });

  test('an onset exactly 50 ms off counts, whatever its binary fraction, and 50.1 ms does not', () => {
    for (const start of [0, 0.3, 1.1, 7.35, 1234.56]) {
      const reference = [note(start, start + 1, 60)];
      expect(scoreNotes(reference, [note(start + 0.05, start + 1, 60)]).con.f).toBe(1);
      expect(scoreNotes(reference, [note(start + 0.0501, start + 1, 60)]).con.f).toBe(0);
    }
  });

  test('differences are rounded to a tenth of a millisecond: 50.04 ms counts, 50.06 ms does not', () => {
    const reference = [note(1, 2, 60)];
    expect(scoreNotes(reference, [note(1.05004, 2, 60)]).con.f).toBe(1);
    expect(scoreNotes(reference, [note(1.05006, 2, 60)]).con.f).toBe(0);
  });

  test('a pitch exactly 50 cents off counts and 50.01 cents does not', () => {
    const reference = [note(1, 2, 60.1)];
    expect(scoreNotes(reference, [note(1, 2, 60.6)]).conp.f).toBe(1);
    expect(scoreNotes(reference, [note(1, 2, 59.6)]).conp.f).toBe(1);
    expect(scoreNotes(reference, [note(1, 2, 60.6001)]).conp.f).toBe(0);
  });

  test('an offset may be off by 50 ms on short notes and by a fifth of the true length on long ones', () => {
    // 0.2·0.1 s = 20 ms is under the floor of 50 ms; 0.2·1 s = 200 ms is over it.
    const short = [note(1, 1.1, 60)];
    expect(scoreNotes(short, [note(1, 1.15, 60)]).conpoff.f).toBe(1);
    expect(scoreNotes(short, [note(1, 1.1502, 60)]).conpoff.f).toBe(0);
    const long = [note(1, 2, 60)];
    expect(scoreNotes(long, [note(1, 2.2, 60)]).conpoff.f).toBe(1);
    expect(scoreNotes(long, [note(1, 2.2002, 60)]).conpoff.f).toBe(0);
  });

  test('empty lists score 0, on either side or both', () => {
    const one = [note(0, 1, 60)];
    const pairs: [ScoredNote[], ScoredNote[]][] = [
      [[], one],
      [one, []],
      [[], []],
    ];
    for (const [reference, heard] of pairs) {
      expect(scoreNotes(reference, heard).con).toEqual({ precision: 0, recall: 0, f: 0 });
    }
  });

  test('any list scores 1 against itself, and a stricter criterion never scores higher', () => {
    const lists = fc.array(
      fc.record({ start: fc.nat(10_000), length: fc.integer({ min: 1, max: 900 }), key: fc.nat(40) }),
      { minLength: 1, maxLength: 30 },
    );
    const asNotes = (items: { start: number; length: number; key: number }[]) =>
      items.map((n) => note(n.start / 1000, (n.start + n.length) / 1000, 40 + n.key));
    fc.assert(
      fc.property(lists, lists, (a, b) => {
        const own = scoreNotes(asNotes(a), asNotes(a));
        expect([own.con.f, own.conp.f, own.conpoff.f]).toEqual([1, 1, 1]);
        const other = scoreNotes(asNotes(a), asNotes(b));
        expect(other.con.f).toBeGreaterThanOrEqual(other.conp.f);
        expect(other.conp.f).toBeGreaterThanOrEqual(other.conpoff.f);
      }),
      { numRuns: 50 },
    );
  });
});

describe('medianPitchDifference', () => {
  test('is the median of estimate − reference over matched onsets only', () => {
    const reference = [note(1, 2, 60), note(2, 3, 62), note(3, 4, 64), note(9, 10, 50)];
    const heard = [note(1, 2, 60.2), note(2, 3, 61.9), note(3, 4, 70), note(20, 21, 90)];
    // Differences 0.2, −0.1, 6; the unmatched notes do not count.
    expect(medianPitchDifference(reference, heard)).toBeCloseTo(0.2, 12);
  });

  test('taking it out turns a constant shift into a perfect score', () => {
    const reference = [note(1, 2, 60), note(2, 3, 62), note(3, 4, 64)];
    const heard = shiftPitch(reference, 0.7);
    expect(scoreNotes(reference, heard).conp.f).toBe(0);
    const back = shiftPitch(heard, -medianPitchDifference(reference, heard));
    expect(scoreNotes(reference, back).conpoff.f).toBe(1);
  });

  test('is 0 where no onset matches', () => {
    expect(medianPitchDifference([note(1, 2, 60)], [note(5, 6, 70)])).toBe(0);
    expect(matchNotes([note(1, 2, 60)], [note(5, 6, 70)], 'onset')).toEqual([]);
  });
});

test('the median of an even number of values is the mean of the middle two', () => {
  expect(median([4, 1, 3, 2])).toBe(2.5);
  expect(median([9, 1, 2])).toBe(2);
  expect(median([])).toBeNull();
});
