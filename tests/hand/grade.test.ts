/** Grades: what is counted, that each count goes one way, and which of two tunes is the harder. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addedBy, CURVES } from '../../src/hand/grade/curves.js';
import { featuresOf, type GradedMelody } from '../../src/hand/grade/features.js';
import { gradeMelody } from '../../src/hand/grade/grade.js';
import { FEATURES, type Feature } from '../../src/hand/grade/types.js';
import { wordsFor } from '../../src/hand/grade/words.js';

interface Told {
  readonly midi: number;
  /** Seconds. */
  readonly length?: number;
  readonly rest?: number;
  readonly newLine?: boolean;
  readonly confidence?: number;
  readonly beat?: number;
  readonly beats?: number;
}

/** Notes one after the other from second 0, in lines. */
function melodyOf(told: readonly Told[], more: Partial<GradedMelody> = {}): GradedMelody {
  let time = 0;
  let line = 1;
  const notes = told.map(({ midi, length = 1, rest = 0, newLine = false, ...own }, i) => {
    if (newLine && i > 0) line++;
    const start = time;
    time += length + rest;
    const { confidence = 1, beat = null, beats = null } = own;
    return { start, end: start + length, midi, confidence, line, beat, beats };
  });
  const lines = Array.from({ length: line }, (_, i) => {
    const first = notes.findIndex((note) => note.line === i + 1);
    const last = notes.findLastIndex((note) => note.line === i + 1);
    return {
      start: notes[first]!.start,
      end: notes[last]!.end,
      first: first + 1,
      last: last + 1,
      like: null,
    };
  });
  return {
    notes,
    lines,
    meter: { beatsPerBar: null, beatUnit: null, firstDownbeat: null },
    hand: [{ first: 1, thumb: 60 }],
    ...more,
  };
}

const keys = (...midis: number[]): Told[] => midis.map((midi) => ({ midi }));
const counted = (what: Feature, told: readonly Told[], more: Partial<GradedMelody> = {}) =>
  featuresOf(melodyOf(told, more))[what];

describe('what is counted', () => {
  test('different notes, the share of the commonest, and the range', () => {
    const tune = keys(60, 62, 60, 67, 60);
    expect(counted('different notes', tune)).toBe(3);
    expect(counted('commonest note', tune)).toBe(0.6);
    expect(counted('range', tune)).toBe(7);
  });

  test('a note that is likelier wrong than right counts for none of these, unless all are', () => {
    const tune = [...keys(60, 62), { midi: 84, confidence: 0.4 }];
    expect(counted('different notes', tune)).toBe(2);
    expect(counted('range', tune)).toBe(2);
    const doubtful = tune.map((note) => ({ ...note, confidence: 0.1 }));
    expect(counted('different notes', doubtful)).toBe(3);
  });

  test('changes within lines a second of the lines: repeated notes and the way to a new line are none', () => {
    // Lines of 2 s and 3 s, a rest of 5 s between.
    const tune: Told[] = [
      { midi: 60 },
      { midi: 62, rest: 5 },
      { midi: 64, newLine: true },
      { midi: 64 },
      { midi: 62 },
    ];
    expect(counted('note changes', tune)).toBeCloseTo(2 / 5, 12);
  });

  test('a quarter of the notes are as short or shorter, from note to note within a line', () => {
    const tune: Told[] = [
      { midi: 60, length: 0.2, rest: 0.1 },
      { midi: 60, length: 1 },
      { midi: 60, length: 1 },
      { midi: 60, length: 0.5, rest: 3 },
    ];
    expect(counted('short notes', tune)).toBeCloseTo(0.3, 12);
    // The last note of a line lasts as long as it sounds.
    const ends = tune.map((note, i) => ({ ...note, newLine: i === 1 }));
    expect(counted('short notes', ends)).toBeCloseTo(0.2, 12);
  });

  test('leaps are steps of a fourth or more within lines', () => {
    expect(counted('leaps', keys(60, 64, 69, 68, 60))).toBe(0.5);
    expect(counted('leaps', [{ midi: 60 }, { midi: 72, newLine: true }])).toBe(0);
  });

  test('the hand moves where a position begins, but for the first note of a line', () => {
    const tune: Told[] = [...keys(60, 62), { midi: 64, newLine: true }, ...keys(65, 67, 69)];
    const hand = [1, 3, 5].map((first) => ({ first, thumb: 60 }));
    // One move within six seconds of lines.
    expect(counted('hand moves', tune, { hand })).toBeCloseTo(10, 12);
    const { hand: _, ...fingerless } = melodyOf(tune);
    expect(featuresOf(fingerless)['hand moves']).toBeNull();
  });

  test('black keys', () => {
    expect(counted('black keys', keys(60, 61, 66, 67))).toBe(0.5);
  });

  test('rhythm in quarters: between the eighths, and held over a beat', () => {
    const places = [
      [1, 1],
      [1.5, 0.5],
      [2.5, 1],
      [3.75, 0.25],
      [4 + 1 / 3, 1 / 3],
    ];
    const tune = places.map(([beat, beats]) => ({ midi: 60, beat: beat!, beats: beats! }));
    expect(counted('fine rhythm', tune)).toBe(0.4);
    // Only the third begins off the beat and lasts past the next.
    expect(counted('syncopation', tune)).toBe(0.2);
    expect(counted('syncopation', keys(60, 62))).toBeNull();
    expect(counted('fine rhythm', keys(60, 62))).toBeNull();
  });

  test('rhythm in 6/8: eighths are whole beats, and three of them are the beat that is felt', () => {
    const meter = { beatsPerBar: 6, beatUnit: 8 as const, firstDownbeat: 0 };
    const tune = [
      { midi: 60, beat: 1, beats: 2 },
      { midi: 60, beat: 3, beats: 1 },
      { midi: 60, beat: 5, beats: 1 },
      { midi: 60, beat: 6, beats: 2 },
      { midi: 60, beat: 2.5, beats: 0.5 },
    ];
    expect(counted('fine rhythm', tune, { meter })).toBe(0.2);
    expect(counted('syncopation', tune, { meter })).toBe(0.2);
  });

  test('in 5/8 every eighth is a beat', () => {
    const meter = { beatsPerBar: 5, beatUnit: 8 as const, firstDownbeat: 0 };
    const tune = [
      { midi: 60, beat: 3, beats: 2 },
      { midi: 60, beat: 5.5, beats: 1 },
    ];
    expect(counted('syncopation', tune, { meter })).toBe(0.5);
  });

  test('notes of lines that come again are learnt once', () => {
    const tune = melodyOf([...keys(60, 62), { midi: 60, newLine: true }, ...keys(62, 64)]);
    expect(featuresOf(tune)['notes to learn']).toBe(5);
    const lines = tune.lines.map((line, i) => ({ ...line, like: i === 1 ? 1 : null }));
    expect(featuresOf({ ...tune, lines })['notes to learn']).toBe(2);
  });
});

describe('the curves', () => {
  test('add up to nine, so that the level is 1 to 10', () => {
    expect(FEATURES.reduce((sum, what) => sum + CURVES[what].most, 0)).toBeCloseTo(9, 12);
    for (const what of FEATURES) {
      const shares = CURVES[what].points.map(([, share]) => share);
      expect([Math.min(...shares), Math.max(...shares)]).toEqual([0, 1]);
    }
  });

  const EASIER_WHEN_MORE: readonly Feature[] = ['commonest note', 'short notes'];

  test.each(FEATURES.map((what) => [what]))('%s goes one way', (what) => {
    const most = 1.2 * CURVES[what].points.at(-1)![0];
    const values = Array.from({ length: 201 }, (_, i) => (i * most) / 200);
    const adds = values.map((value) => addedBy(what, value));
    if (EASIER_WHEN_MORE.includes(what)) adds.reverse();
    for (const [i, add] of adds.slice(1).entries()) expect(add).toBeGreaterThanOrEqual(adds[i]! - 1e-12);
    expect([adds[0], adds.at(-1)]).toEqual([0, CURVES[what].most]);
  });

  test('a line between two points, and a third of the most where nothing is known', () => {
    expect(addedBy('range', 7 + 17 / 4)).toBeCloseTo(0.2, 12);
    expect(addedBy('syncopation', null)).toBeCloseTo(0.5 / 3, 12);
  });
});

/** Tunes of 1 to 40 notes in lines; hands that move somewhere. */
const tunes: fc.Arbitrary<GradedMelody> = fc
  .record({
    told: fc.array(
      fc.record({
        midi: fc.integer({ min: 55, max: 79 }),
        length: fc.double({ min: 0.05, max: 2, noNaN: true }),
        rest: fc.double({ min: 0, max: 1, noNaN: true }),
        newLine: fc.nat(7).map((die) => die === 0),
        confidence: fc.double({ min: 0, max: 1, noNaN: true }),
        beat: fc.constantFrom(1, 1.5, 2.25, 3, 4.75),
        beats: fc.constantFrom(0.25, 0.5, 1, 2),
      }),
      { minLength: 1, maxLength: 40 },
    ),
    moves: fc.array(fc.integer({ min: 2, max: 40 }), { maxLength: 6 }),
  })
  .map(({ told, moves }) => {
    const firsts = [...new Set([1, ...moves.filter((first) => first <= told.length)])];
    return melodyOf(told, { hand: firsts.map((first) => ({ first, thumb: 60 })) });
  });

/** Each time by another that `move` gives. */
function retimed(tune: GradedMelody, move: (seconds: number) => number): GradedMelody {
  const both = ({ start, end }: { start: number; end: number }) => ({ start: move(start), end: move(end) });
  return {
    ...tune,
    notes: tune.notes.map((note) => ({ ...note, ...both(note) })),
    lines: tune.lines.map((line) => ({ ...line, ...both(line) })),
  };
}

/** The level before it is rounded, which would hide small steps the wrong way; exact to nine decimals. */
function sumOf(tune: GradedMelody): number {
  const sum = gradeMelody(tune).parts.reduce((total, { adds }) => total + adds, 1);
  return Math.round(1e9 * sum);
}

describe('grades', () => {
  test('are 1 to 10, the sum of what their parts add, with a reason for each, the greatest first', () => {
    fc.assert(
      fc.property(tunes, (tune) => {
        const { level, reasons, parts } = gradeMelody(tune);
        expect(level).toBeGreaterThanOrEqual(1);
        expect(level).toBeLessThanOrEqual(10);
        expect(parts.map(({ what }) => what).sort()).toEqual([...FEATURES].sort());
        expect(level).toBeCloseTo(1 + parts.reduce((sum, { adds }) => sum + adds, 0), 1);
        expect(parts.map(({ adds }) => adds)).toEqual(parts.map(({ adds }) => adds).sort((a, b) => b - a));
        expect(reasons).toEqual(parts.map(({ what, value }) => wordsFor(what, value)));
      }),
    );
  });

  test('never fall when everything is played faster', () => {
    fc.assert(
      fc.property(tunes, fc.double({ min: 0.1, max: 1, noNaN: true }), (tune, share) => {
        const faster = retimed(tune, (seconds) => share * seconds);
        expect(sumOf(faster)).toBeGreaterThanOrEqual(sumOf(tune));
      }),
    );
  });

  test('never fall when one note is made shorter, and what follows comes sooner', () => {
    fc.assert(
      fc.property(tunes, fc.nat(), fc.double({ min: 0.1, max: 1, noNaN: true }), (tune, which, share) => {
        const { start, end } = tune.notes[which % tune.notes.length]!;
        const gone = (1 - share) * (end - start);
        const faster = retimed(tune, (seconds) => {
          if (seconds <= start) return seconds;
          return seconds >= end ? seconds - gone : start + share * (seconds - start);
        });
        expect(sumOf(faster)).toBeGreaterThanOrEqual(sumOf(tune));
      }),
    );
  });

  test('never fall when a line no longer repeats another, or the hand moves once more', () => {
    fc.assert(
      fc.property(tunes, fc.nat(), (tune, which) => {
        const index = which % tune.lines.length;
        const lines = tune.lines.map((line, i) => (i === index ? { ...line, like: 1 } : line));
        expect(sumOf(tune)).toBeGreaterThanOrEqual(sumOf({ ...tune, lines }));
        const hand = [...tune.hand!, { first: (which % tune.notes.length) + 1, thumb: 65 }];
        expect(sumOf({ ...tune, hand })).toBeGreaterThanOrEqual(sumOf(tune));
      }),
    );
  });

  test('never fall when a rhythm is held over a beat, or a key becomes a new one within the range', () => {
    // On white keys: F once in place of D, with no other leap.
    const few = melodyOf(keys(60, 62, 64, 62, 64, 62, 67));
    const more = melodyOf(keys(60, 62, 64, 65, 64, 62, 67));
    expect(sumOf(more)).toBeGreaterThan(sumOf(few));
    const straight = melodyOf([{ midi: 60, beat: 1.5, beats: 0.5 }]);
    const held = melodyOf([{ midi: 60, beat: 1.5, beats: 1 }]);
    expect(gradeMelody(held).level).toBeGreaterThan(gradeMelody(straight).level);
  });

  test('one long key is as easy as can be; fast wide leaps on all the keys are nearly as hard', () => {
    const one = { midi: 60, length: 4, beat: 1, beats: 4 };
    expect(gradeMelody(melodyOf([one])).level).toBe(1);
    const wild = Array.from({ length: 300 }, (_, i) => ({
      midi: 55 + ((i * 17) % 25),
      length: 0.1,
      beat: 1.75,
      beats: 0.5,
    }));
    const hand = wild.map((_, i) => ({ first: i + 1, thumb: 60 }));
    expect(gradeMelody(melodyOf(wild, { hand })).level).toBeGreaterThan(9);
  });
});

describe('words', () => {
  test.each([
    ['different notes', 1, 'one note only'],
    ['different notes', 7, '7 different notes'],
    ['hand moves', 0.3, 'the hand moves once a minute within lines'],
    ['hand moves', null, 'no fingers to tell how often the hand moves'],
    ['leaps', 0, 'no leap of a fourth or more'],
    ['leaps', 0.111, '11 % of the steps are a fourth or wider'],
    ['short notes', 0.25, 'a quarter of the notes last 0.25 s or less'],
    ['range', 1, 'a range of 1 semitone'],
    ['black keys', 0, 'no black keys'],
    ['syncopation', null, 'no steady beat to tell what is syncopated'],
    ['notes to learn', 1, 'one note to learn'],
  ] as const)('%s %d: %s', (what, value, words) => {
    expect(wordsFor(what, value)).toBe(words);
  });
});
