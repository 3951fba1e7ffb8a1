/** What is counted for a grade, each by a line small enough to count by hand, and how it is told. */
import { describe, expect, test } from 'vitest';
import { featuresOf, type GradedMelody } from '../../src/hand/grade/features.js';
import type { Feature } from '../../src/hand/grade/types.js';
import { wordsFor } from '../../src/hand/grade/words.js';
import { keys, melodyOf, type Told } from './grade-tunes.js';

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
    ['range', 0, 'all on one key'],
    ['note changes', 0, 'the note never changes'],
    ['black keys', 0, 'no black keys'],
    ['syncopation', null, 'no steady beat to tell what is syncopated'],
    ['notes to learn', 1, 'one note to learn'],
  ] as const)('%s %d: %s', (what, value, words) => {
    expect(wordsFor(what, value)).toBe(words);
  });
});
