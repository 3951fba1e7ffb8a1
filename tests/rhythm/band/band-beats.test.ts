import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { bandBeats } from '../../../src/rhythm/band/band-beats.js';
import { scoreBeats, tempoOf, tempoRight } from '../../evaluate/beats/beat-scores.js';
import { band, beatTimes, clicks, RATE, recordingOf } from './signals.js';

const heard = (samples: Float32Array) => bandBeats(recordingOf(samples));
const noise = (seconds: number, seed: number) => {
  const random = seededRandom(seed);
  return Float32Array.from({ length: seconds * RATE }, () => 0.1 * random.gauss());
};

describe('drums and chords', () => {
  test.each([70, 80, 90, 100, 110, 120])('%i beats a minute are heard, each beat in its place', (bpm) => {
    const times = beatTimes(30, 0.4, () => 60 / bpm);
    const beats = heard(band(30, times))!;
    expect(tempoRight(bpm, tempoOf(beats.seconds))).toBe(true);
    expect(scoreBeats(times, beats.seconds).f).toBeGreaterThan(0.95);
    expect(beats.steadiness).toBeGreaterThan(0.6);
  });

  test.each([130, 150])('%i beats a minute may be heard as half as many, on beats', (bpm) => {
    const times = beatTimes(30, 0.4, () => 60 / bpm);
    const { seconds } = heard(band(30, times))!;
    expect([1, 1 / 2].some((ratio) => tempoRight(ratio * bpm, tempoOf(seconds)))).toBe(true);
    expect(scoreBeats(times, seconds).precision).toBeGreaterThan(0.95);
  });

  test('a tempo that rises by a fifth is followed', () => {
    const times = beatTimes(60, 0.5, (k) => 0.6 - 0.1 * Math.min(1, k / 100));
    const beats = heard(band(60, times))!;
    expect(scoreBeats(times, beats.seconds).f).toBeGreaterThan(0.95);
  });

  test('a swung off-beat stays an off-beat', () => {
    const times = beatTimes(30, 0.5, () => 60 / 116);
    const beats = heard(band(30, times, 2 / 3))!;
    expect(scoreBeats(times, beats.seconds).f).toBeGreaterThan(0.95);
  });

  test('the level does not matter, and silence before moves the beats by its length', () => {
    const samples = band(
      20,
      beatTimes(20, 0.5, () => 0.55),
    );
    const beats = heard(samples)!.seconds;
    expect(heard(samples.map((s) => s / 64))!.seconds).toEqual(beats);
    const moved = new Float32Array(samples.length + 3 * RATE);
    moved.set(samples, 3 * RATE);
    const later = heard(moved)!.seconds;
    expect(
      scoreBeats(
        beats.map((t) => t + 3),
        later,
      ).f,
    ).toBeGreaterThan(0.95);
    expect(later[0]).toBeGreaterThan(2.8);
  });

  test('beats increase and stay within the recording', () => {
    const beats = heard(
      band(
        20,
        beatTimes(20, 0.1, () => 0.5),
      ),
    )!.seconds;
    expect(beats.every((time, i) => i === 0 || time > beats[i - 1]!)).toBe(true);
    expect(beats[0]).toBeGreaterThan(-0.1);
    expect(beats.at(-1)).toBeLessThan(20.1);
  });
});

test.each([60, 75, 90, 105, 120, 135, 150, 165, 180])(
  '%i bare clicks a minute, which may be beats or their halves: the beats fall on clicks, or on them and half-way',
  (bpm) => {
    const times = beatTimes(30, 0.5, () => 60 / bpm);
    const beats = heard(clicks(30, times))!;
    expect([1 / 2, 1, 2].some((ratio) => Math.abs(tempoOf(beats.seconds)! / (ratio * bpm) - 1) < 0.03)).toBe(
      true,
    );
    const halves = [...times, ...times.map((t) => t + 30 / bpm)].sort((a, b) => a - b);
    expect(scoreBeats(halves, beats.seconds).precision).toBeGreaterThan(0.95);
    expect(beats.steadiness).toBeGreaterThan(0.6);
  },
);

describe('what has no beat', () => {
  test.each([0, 1, 159, 16_000, 320_000])('%i samples of silence', (length) => {
    expect(heard(new Float32Array(length))).toBeNull();
  });

  test('a click alone', () => {
    expect(heard(clicks(10, [5]))).toBeNull();
  });

  test.each([1, 2, 3])('noise (seed %i) has little steadiness, if any', (seed) => {
    expect(heard(noise(30, seed))?.steadiness ?? 0).toBeLessThan(0.3);
  });
});
