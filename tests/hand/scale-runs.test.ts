import { describe, expect, test } from 'vitest';
import { scaleRunFingers } from '../../src/hand/scale-runs.js';

const C_MAJOR = [60, 62, 64, 65, 67, 69, 71, 72];

/** Fingers as text, `.` where the handbook says nothing. */
function runs(midis: readonly number[], restBefore = -1): string {
  const strokes = midis.map((midi, i) => ({ midi, afterRest: i === restBefore }));
  return scaleRunFingers(strokes)
    .map((finger) => finger ?? '.')
    .join('');
}

describe('scaleRunFingers', () => {
  test('an octave up, down, and up and down', () => {
    expect(runs(C_MAJOR)).toBe('12312345');
    expect(runs(C_MAJOR.toReversed())).toBe('54321321');
    expect(runs([...C_MAJOR, ...C_MAJOR.toReversed().slice(1)])).toBe('123123454321321');
  });

  test('inside a line, and not beyond', () => {
    expect(runs([67, 64, ...C_MAJOR, 67, 64])).toBe('..12312345..');
  });

  test('less than an octave, a rest within, or a key outside the scale is no run', () => {
    expect(runs(C_MAJOR.slice(0, 7))).toBe('.......');
    expect(runs(C_MAJOR, 4)).toBe('........');
    expect(runs([60, 62, 64, 66, 67, 68, 71, 72])).toBe('........');
  });

  test('beyond the octave the cycle goes on, and the top takes the next finger', () => {
    expect(runs([...C_MAJOR, 74, 76])).toBe('1231234123');
    // Up to F, where the cycle has the thumb: 4 after 3.
    expect(runs([...C_MAJOR, 74, 76, 77])).toBe('12312341234');
  });

  test('where the line goes on upwards the thumb at the top is left open', () => {
    expect(runs([...C_MAJOR, 76])).toBe('1231234..');
  });

  test('a run that does not begin on the tonic is open up to the first thumb', () => {
    // F sharp major from C sharp: fingers 2 and 3 before the thumb on F are not the handbook's to say.
    expect(runs([59, 60, 62, 64, 65, 67, 69, 71, 72])).toBe('.12312345');
  });
});
