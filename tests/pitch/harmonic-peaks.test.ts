import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { pitchFromPeaks } from '../../src/pitch/harmonic-peaks.js';
import { type Course, RATE, steady, tone, vibrato } from './signals.js';

const HOP = 320;
const midiOf = (hz: number) => 69 + 12 * Math.log2(hz / 440);

/** Cents by which the refined pitch is wrong, where the given one was wrong by `wrong` cents. */
function errors(samples: Float32Array, course: Course, wrong: (t: number) => number, voice = 1): number[] {
  const count = Math.floor(samples.length / HOP) + 1;
  const truth = Array.from({ length: count }, (_, t) => midiOf(course.hz((t * HOP) / RATE)));
  const given = Float32Array.from(truth, (midi, t) => midi + wrong(t) / 100);
  const found = pitchFromPeaks(samples, RATE, HOP, given, new Float32Array(count).fill(voice));
  return [...found].map((midi, t) => Math.abs(midi - truth[t]!) * 100).slice(3, -3);
}
const largest = (values: readonly number[]) => Math.max(...values);
const median = (values: readonly number[]) => values.toSorted((a, b) => a - b)[values.length >> 1]!;

describe('the pitch by the peaks of the harmonics', () => {
  test.each([98, 220, 523.25, 987.77])('of a tone of %f Hz is right to a cent, from 11 cents off', (hz) => {
    for (const wrong of [-11, 0, 11]) {
      expect(largest(errors(tone(steady(hz), 0.5), steady(hz), () => wrong))).toBeLessThan(1);
    }
  });

  test('follows vibrato of 60 cents within a few cents', () => {
    const course = vibrato(220, 0.035, 5.5);
    expect(median(errors(tone(course, 1), course, (t) => 9 * Math.cos(t)))).toBeLessThan(5);
  });

  test('is not pulled by a chord as loud', () => {
    const course = steady(261.63);
    const samples = tone(course, 1, { gain: 0.2 });
    for (const hz of [110.3, 164.2, 196.7, 329.9]) {
      tone(steady(hz), 1, { gain: 0.1 }).forEach((value, i) => {
        samples[i]! += value;
      });
    }
    expect(median(errors(samples, course, (t) => 9 * Math.cos(t)))).toBeLessThan(2);
  });

  test('moves no further than 12 cents, and stays where nobody sings or nothing sounds', () => {
    const random = seededRandom(5);
    const noise = Float32Array.from({ length: RATE }, () => random.between(-1, 1));
    expect(largest(errors(noise, steady(220), () => 0))).toBeLessThanOrEqual(12.01);
    expect(largest(errors(noise, steady(220), () => 0, 0.05))).toBeLessThan(0.01);
    expect(largest(errors(new Float32Array(RATE), steady(220), () => 0))).toBeLessThan(0.01);
  });
});
