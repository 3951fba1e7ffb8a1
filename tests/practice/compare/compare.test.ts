import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compare } from '../../../src/practice/compare/compare.js';
import type { Side } from '../../../src/practice/compare/types.js';
import { ALL, delayed, faults, faultsOf, sideOf, TUNE, withNotes } from './sides.js';

const tune = sideOf(TUNE);

/** Melodies of four notes or more, that are not all one key. */
const melodies = fc
  .array(fc.integer({ min: 48, max: 84 }), { minLength: 4, maxLength: 40 })
  .filter((midis) => new Set(midis).size > 1)
  .map((midis) => sideOf(midis));

function scaled(side: Side, factor: number): Side {
  return withNotes(side, ({ start, end }) => ({ start: factor * start, end: factor * end }));
}

function transposed(side: Side, semitones: number): Side {
  return withNotes(side, ({ midi, pitch }) => ({ midi: midi + semitones, pitch: pitch + semitones }));
}

/** The tune with one of its notes changed, left out, or followed by another. */
function spliced(at: number, remove: number, ...keys: number[]): number[] {
  return [...TUNE.slice(0, at), ...keys, ...TUNE.slice(at + remove)];
}

describe('an attempt without mistakes', () => {
  test('the melody itself is right note by note', () => {
    fc.assert(
      fc.property(melodies, (side) => {
        const result = compare(side, side, ALL);
        expect(faults(result)).toEqual([]);
        expect(result).toMatchObject({ transposition: 0, tempoRatio: 1, score: 1 });
        expect(result.notes.map((note) => [note.target, note.attempt])).toEqual(
          side.notes.map((_, i) => [i + 1, i + 1]),
        );
        expect(result.summary).toMatchObject({ mistakes: [], lookFirst: null });
        expect(result.summary.lines.every(({ safe }) => safe)).toBe(true);
      }),
      { numRuns: 50 },
    );
  });

  test('in another key, every note is right and the key is told', () => {
    fc.assert(
      fc.property(melodies, fc.integer({ min: -24, max: 24 }), (side, semitones) => {
        const result = compare(side, transposed(side, semitones), ALL);
        expect(faults(result)).toEqual([]);
        expect(result).toMatchObject({ transposition: semitones, score: 1 });
      }),
      { numRuns: 50 },
    );
  });

  test('at another tempo, every note is right and the tempo is told', () => {
    fc.assert(
      fc.property(melodies, fc.double({ min: 0.5, max: 2, noNaN: true }), (side, factor) => {
        const result = compare(side, scaled(side, factor), ALL);
        expect(faults(result)).toEqual([]);
        expect(result.tempoRatio).toBeCloseTo(1 / factor, 6);
      }),
      { numRuns: 50 },
    );
  });

  test('a tempo that comes and goes is no mistake', () => {
    const rubato = withNotes(tune, ({ start, end }) => {
      const clock = (time: number) => time + 0.15 * Math.sin(time);
      return { start: clock(start), end: clock(end) };
    });
    expect(faultsOf(tune, rubato)).toEqual([]);
  });

  test('a breath between two lines is no mistake', () => {
    expect(faultsOf(tune, delayed(tune, 8, 1.5))).toEqual([]);
  });
});

describe('wrong keys', () => {
  test('are too high or too low by so many semitones', () => {
    for (const off of [-4, -3, -2, -1, 1, 2, 3, 4]) {
      expect(faultsOf(tune, sideOf(spliced(5, 1, 64 + off)))).toEqual([
        `6/6 too ${off > 0 ? 'high' : 'low'} ${off}`,
      ]);
    }
  });

  test('are counted after the transposition', () => {
    const result = compare(tune, transposed(sideOf(spliced(5, 1, 66)), 3), ALL);
    expect(faults(result)).toEqual(['6/6 too high 2']);
    expect(result.notes[5]).toMatchObject({ semitones: 2, cents: 200, sung: null });
    expect(result.score).toBeCloseTo(15 / 16);
  });

  test('with --same-key another key is wrong throughout, another octave is not', () => {
    const sameKey = { ...ALL, sameKey: true };
    const result = compare(tune, transposed(tune, 2), sameKey);
    expect(result.transposition).toBe(0);
    expect(result.notes.every(({ verdict, semitones }) => verdict === 'too high' && semitones === 2)).toBe(
      true,
    );
    expect(compare(tune, transposed(tune, -12), sameKey)).toMatchObject({ transposition: -12, score: 1 });
  });
});

describe('notes too few and too many', () => {
  test('a missed note, with its time and without', () => {
    const without = sideOf(spliced(5, 1));
    expect(faultsOf(tune, without)).toEqual(['6/- missed']);
    expect(faultsOf(tune, delayed(without, 5, 0.5))).toEqual(['6/- missed']);
  });

  test('an extra note, with time of its own and without', () => {
    const more = sideOf(spliced(5, 0, 58));
    expect(faultsOf(tune, more)).toEqual(['-/6 extra']);
    const squeezed = withNotes(delayed(more, 6, -0.5), ({ start }, i) =>
      i === 5 ? { start: start - 0.2 } : {},
    );
    expect(faultsOf(tune, squeezed)).toEqual(['-/6 extra']);
    expect(compare(tune, more, ALL).score).toBeCloseTo(16 / 17);
  });

  test('a line that was not played is missed, the rest right', () => {
    const result = compare(tune, sideOf(TUNE.slice(8)), ALL);
    expect(result.notes.filter(({ verdict }) => verdict === 'missed')).toHaveLength(8);
    expect(result.score).toBe(0.5);
    expect(result.summary.mistakes).toMatchObject([
      { kind: 'unplayed', line: 1, words: 'line 1 was not played' },
    ]);
  });

  test('one note is compared with one note', () => {
    expect(compare(sideOf([60]), sideOf([60]), ALL)).toMatchObject({ score: 1, tempoRatio: null });
  });

  test('an attempt that has nothing in common still gets a verdict a note', () => {
    const { notes } = compare(tune, sideOf([40, 90, 40]), ALL);
    expect(notes.filter(({ attempt }) => attempt !== null).map(({ attempt }) => attempt)).toEqual([1, 2, 3]);
    expect(new Set(notes.flatMap(({ target }) => target ?? [])).size).toBe(16);
  });
});

describe('any two melodies', () => {
  test('every note of both has one verdict, and the score lies between 0 and 1', () => {
    fc.assert(
      fc.property(melodies, melodies, fc.boolean(), (target, attempt, sameKey) => {
        const { notes, score } = compare(target, attempt, { sameKey, line: null });
        const numbers = (of: 'target' | 'attempt') => notes.flatMap((note) => note[of] ?? []);
        expect(numbers('attempt')).toEqual(attempt.notes.map((_, i) => i + 1));
        expect(numbers('target').sort((a, b) => a - b)).toEqual(target.notes.map((_, i) => i + 1));
        expect(score).toBeGreaterThanOrEqual(0);
        expect(score).toBeLessThanOrEqual(1);
      }),
      { numRuns: 50 },
    );
  });
});

describe('tries', () => {
  test('a false start is a restart, and the last time counts', () => {
    const again = sideOf([...TUNE.slice(0, 4), ...TUNE]);
    expect(faultsOf(tune, again)).toEqual(['-/1 restart', '-/2 restart', '-/3 restart', '-/4 restart']);
    const result = compare(tune, delayed(again, 4, 1), ALL);
    expect(result.score).toBe(1);
    expect(result.summary.mistakes).toMatchObject([{ kind: 'restart', notes: [1, 2, 3, 4] }]);
    expect(result.summary.lookFirst).toBeNull();
    expect(result.notes.slice(0, 2).map(({ tried }) => tried)).toEqual([1, 2]);
  });

  test('going back within a line, with the mistake that was the reason', () => {
    const back = sideOf([...TUNE.slice(0, 6), 70, ...TUNE.slice(4)]);
    expect(faultsOf(tune, delayed(back, 7, 1))).toEqual(['-/5 restart', '-/6 restart', '-/7 restart']);
  });

  test('a song played twice counts once', () => {
    const result = compare(tune, sideOf([...TUNE, ...TUNE]), ALL);
    expect(result.score).toBe(1);
    expect(result.notes.filter(({ verdict }) => verdict === 'restart')).toHaveLength(16);
  });
});

describe('time', () => {
  test('one note late, one early', () => {
    const uneven = withNotes(tune, ({ start }, i) =>
      i === 4 ? { start: start + 0.3 } : i === 11 ? { start: start - 0.3 } : {},
    );
    const { notes, score } = compare(tune, uneven, ALL);
    expect([notes[4], notes[11]]).toMatchObject([{ verdict: 'late' }, { verdict: 'early' }]);
    expect(notes[4]!.seconds).toBeCloseTo(0.3);
    expect(notes[11]!.seconds).toBeCloseTo(-0.3);
    expect(notes.filter(({ verdict }) => verdict === 'right')).toHaveLength(14);
    expect(score).toBeCloseTo(15 / 16);
  });

  test('a wait within a line makes one note late, not all that follow', () => {
    const { notes } = compare(tune, delayed(tune, 4, 1.5), ALL);
    expect(faults({ notes } as never)).toEqual(['5/5 late']);
    expect(notes[4]!.seconds).toBeCloseTo(1.5, 1);
  });

  test('a note let go long before its end', () => {
    const short = withNotes(tune, ({ start }, i) => (i === 6 ? { end: start + 0.08 } : {}));
    expect(faultsOf(tune, short)).toEqual(['7/7 short']);
  });
});

describe('one line', () => {
  test('is found anywhere in the key of the attempt, and keeps its numbers', () => {
    const result = compare(tune, transposed(sideOf([72, 69, 70, 67, 65, 69, 62, 60]), 5), {
      ...ALL,
      line: 2,
    });
    expect(result.transposition).toBe(5);
    expect(faults(result)).toEqual(['11/3 too low -1']);
    expect(result.summary.lines).toEqual([{ line: 2, notes: 8, right: 7, safe: false }]);
    expect(result.summary).toMatchObject({
      lookFirst: 11,
      mistakes: [{ line: 2, words: 'note 11 (B4) is a semitone too low' }],
    });
  });

  test('that is not there is refused', () => {
    expect(() => compare(tune, tune, { ...ALL, line: 3 })).toThrow(RangeError);
  });
});
