import { describe, expect, test } from 'vitest';
import { lineCounts } from '../../../src/write/sheet/counts.js';
import { handWords } from '../../../src/write/sheet/hand-words.js';
import { clock, escaped, withoutOctave, withSigns } from '../../../src/write/sheet/names.js';
import { inARow, score } from '../scores.js';

describe('where the hand lies', () => {
  const hand = [
    { first: 1, thumb: 60 },
    { first: 4, thumb: 67 },
    { first: 6, thumb: 67 },
    { first: 9, thumb: 60 },
  ];
  const nameOf = (midi: number) => ({ 60: 'C4', 67: 'G4' })[midi]!;

  test('is told for the start of the line, where the hand may have come from the line before', () => {
    expect(handWords({ hand }, { first: 2, last: 3 }, nameOf)).toBe('Hand: thumb on C4.');
  });

  test('moves are counted in the line; a thumb that stays is no move', () => {
    expect(handWords({ hand }, { first: 3, last: 9 }, nameOf)).toBe(
      'Hand: thumb on C4, G4 from note 2, C4 from note 7.',
    );
  });

  test('is left out where it is not known', () => {
    expect(handWords({}, { first: 1, last: 3 }, nameOf)).toBe('');
  });
});

describe('names', () => {
  test('have signs for sharps and flats, but not for the letter B', () => {
    expect(['Bb4', 'F##3', 'B4', 'Ebb'].map(withSigns)).toEqual(['B♭4', 'F♯♯3', 'B4', 'E♭♭']);
    expect(['Bb4', 'C-1'].map(withoutOctave)).toEqual(['Bb', 'C']);
  });

  test('times are minutes and seconds', () => {
    expect([0, 59.9, 61.2].map(clock)).toEqual(['0:00', '0:59', '1:01']);
  });

  test('text from outside loses every character that means something in markup, and marks that turn the writing', () => {
    expect(escaped(`<b a="1" c='2'>&\u202e\u0007x`)).toBe('&lt;b a=&quot;1&quot; c=&#39;2&#39;&gt;&amp; x');
  });
});

describe('counting in', () => {
  const clicks = (meter: readonly [number, 4 | 8], from: readonly [number, number]) =>
    lineCounts(
      score(
        meter,
        inARow(meter[0], from, [
          ['C4', 1],
          ['D4', 2],
          ['E4', 3],
        ]),
      ),
    )![0]!;

  test.each([
    ['on a downbeat of four: one bar', [4, 4], [1, 1], 4],
    ['on the last beat of four: the bar up to it', [4, 4], [1, 4], 3],
    ['on the second beat: a bar, and the first beat', [4, 4], [1, 2], 5],
    ['half a beat after a downbeat: a bar, and the downbeat', [3, 4], [1, 1.5], 4],
    ['in six eighths, on the downbeat: six', [6, 8], [1, 1], 6],
  ] as const)('a line that begins %s', (_what, meter, from, count) => {
    expect(clicks(meter, from).clicks).toBe(count);
  });

  test('the last click leads into the first note', () => {
    expect(clicks([4, 4], [1, 1])).toEqual({
      beatSeconds: 0.5,
      clicks: 4,
      lastClickSeconds: 0.5,
      beatsPerBar: 4,
    });
    expect(clicks([4, 4], [1, 2.5]).lastClickSeconds).toBe(0.25);
  });
});
