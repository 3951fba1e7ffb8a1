/** What has one cause is one mistake, the worst comes first, and sentences say what and where. */
import { describe, expect, test } from 'vitest';
import { compare } from '../../../src/practice/compare/compare.js';
import { distance, interval, notesWord } from '../../../src/practice/compare/words.js';
import { ALL, sideOf, TUNE } from './sides.js';

const tune = sideOf(TUNE);
const mistakesIn = (keys: readonly number[], target = tune) =>
  compare(target, sideOf(keys), ALL).summary.mistakes;

describe('systematic mistakes', () => {
  test('a line that lies a semitone too high is one', () => {
    const mistakes = mistakesIn(TUNE.map((midi, i) => (i < 8 ? midi : midi + 1)));
    expect(mistakes).toEqual([
      {
        kind: 'pitch',
        notes: [9, 10, 11, 12, 13, 14, 15, 16],
        line: 2,
        words: 'notes 9 to 16 all lie a semitone too high: one mistake, and the rest follows',
      },
    ]);
  });

  test('so is one a step of the scale too high, by a tone here and a semitone there', () => {
    // A step up in C major from each of C5 A4 B4 G4 F4 A4 D4 C4.
    const higher = [74, 71, 72, 69, 67, 71, 64, 62];
    expect(mistakesIn([...TUNE.slice(0, 8), ...higher])).toMatchObject([
      { line: 2, words: 'notes 9 to 16 all lie a step too high: one mistake, and the rest follows' },
    ]);
  });

  test('a key that is wrong every time is one', () => {
    // F4, notes 4 and 13, as F#4.
    expect(mistakesIn(TUNE.map((midi) => (midi === 65 ? 66 : midi)))).toEqual([
      {
        kind: 'pitch',
        notes: [4, 13],
        line: null,
        words: 'F is a semitone too high again and again (notes 4 and 13)',
      },
    ]);
  });

  test('two slips that have nothing in common are two', () => {
    const keys = TUNE.map((midi, i) => (i === 3 ? midi + 1 : i === 9 ? midi - 2 : midi));
    expect(mistakesIn(keys)).toMatchObject([
      { words: 'note 4 (F4) is a semitone too high' },
      { words: 'note 10 (A4) is two semitones too low' },
    ]);
  });
});

describe('order and words', () => {
  test('wrong keys come before extra notes, and the mistake with most notes first', () => {
    const keys = [60, 58, ...TUNE.slice(1, 10), 72, ...TUNE.slice(11, 14)];
    const { lookFirst, mistakes } = compare(tune, sideOf(keys), ALL).summary;
    expect(mistakes.map(({ words }) => words)).toEqual([
      'notes 15 and 16 were missed',
      'note 11 (B4) is a semitone too high',
      'an extra note (Bb3) was played after note 1',
    ]);
    expect(lookFirst).toBe(15);
  });

  test('a line that was not even tried comes after what was tried and is wrong', () => {
    const keys = TUNE.slice(0, 8).map((midi, i) => (i === 3 ? midi + 1 : midi));
    expect(compare(tune, sideOf(keys), ALL).summary).toMatchObject({
      lookFirst: 4,
      mistakes: [{ kind: 'pitch' }, { kind: 'unplayed', line: 2, words: 'line 2 was not played' }],
    });
  });

  test('numbers and intervals', () => {
    expect([[7], [7, 9], [9, 10], [9, 10, 11], [3, 7, 9]].map(notesWord)).toEqual([
      'note 7',
      'notes 7 and 9',
      'notes 9 and 10',
      'notes 9 to 11',
      'notes 3, 7 and 9',
    ]);
    expect([1, -2, 11, 12, -24, 13].map(interval)).toEqual([
      'a semitone',
      'two semitones',
      'eleven semitones',
      'an octave',
      'two octaves',
      '13 semitones',
    ]);
    expect(distance(-3)).toBe('three semitones too low');
  });
});
