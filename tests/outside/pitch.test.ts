/**
 * The tracker against the frequencies that handbooks print for equal temperament at A4 = 440 Hz (common
 * practice; typed in from memory, rounded to 0.01 Hz as printed), played as tones.
 */
import { expect, test } from 'vitest';
import { bestPath } from '../../src/pitch/best-path.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import { parseNoteName } from '../../src/theory/pitch-names.js';
import { midiToHz } from '../../src/units.js';
import { median, RATE, steady, tone } from '../pitch/signals.js';

const TABLE: readonly (readonly [string, number])[] = [
  ['B1', 61.74],
  ['C2', 65.41],
  ['E2', 82.41],
  ['G2', 98.0],
  ['A2', 110.0],
  ['C3', 130.81],
  ['D3', 146.83],
  ['F#3', 185.0],
  ['A3', 220.0],
  ['Bb3', 233.08],
  ['C4', 261.63],
  ['E4', 329.63],
  ['F4', 349.23],
  ['A4', 440.0],
  ['C5', 523.25],
  ['D5', 587.33],
  ['G5', 783.99],
  ['A5', 880.0],
  ['C6', 1046.5],
  ['E6', 1318.51],
];

test.each(TABLE)('%s is %f Hz, and a tone of that frequency is heard as it, within 5 cents', (name, hz) => {
  const key = parseNoteName(name);
  expect(key).not.toBeNull();
  expect(midiToHz(key!)).toBeCloseTo(hz, 2);
  for (const partials of [[1], [1, 0.5, 0.25, 0.125]]) {
    const samples = tone(steady(hz), 0.2, { partials });
    const { pitch } = bestPath(periodicity(samples, RATE, { lowestHz: 55, highestHz: 1500 }));
    expect(100 * Math.abs(median([...pitch.subarray(4, -4)]) - key!)).toBeLessThan(5);
  }
});
