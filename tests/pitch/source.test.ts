import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { decodeRecording } from '../../src/audio/decode.js';
import { decideSource } from '../../src/pitch/source.js';
import { measureSource } from '../../src/pitch/source-measures.js';
import { band, over } from './band.js';
import { chirp, RATE, recordingOf, sing, steady, tone } from './signals.js';

const fixture = async (name: string) => {
  const path = new URL(`../../fixtures/${name}`, import.meta.url);
  return (await decodeRecording(new Uint8Array(readFileSync(path)), name)).samples;
};
const decide = (samples: Float32Array) => decideSource(recordingOf(samples));
const noise = (length: number, gain: number) => {
  const random = seededRandom(3);
  return Float32Array.from({ length }, () => gain * random.gauss());
};

let voice = new Float32Array(0);
beforeAll(async () => {
  voice = (await fixture('sung-joy.flac')).slice(0, 12 * RATE);
});

describe('what is measured', () => {
  const TUNE = [60, 64, 67, 72].map((midi, i) => ({ start: 0.3 + i, end: 1 + i, midi }));

  test('a tone repeats, stands alone and has nothing below it', () => {
    const measures = measureSource(tone(steady(220), 3), RATE)!;
    expect(measures.unexplained).toBeLessThan(0.01);
    expect(measures.otherTones).toBeLessThan(0.01);
    expect(measures.below).toBeLessThan(0.01);
    expect(measures.pauseDb).toBeGreaterThan(-1);
  });

  test('two tones that have no common period leave much unexplained, and it is tonal', () => {
    // 3:5 would repeat at 50 Hz, below the range.
    const [a, b] = [150, 250].map((hz) => tone(steady(hz), 3, { partials: [1] }));
    const measures = measureSource(over(a!, b!, 0), RATE)!;
    expect(measures.unexplained).toBeGreaterThan(0.1);
    expect(measures.unexplained).toBeLessThan(0.6);
    expect(measures.otherTones).toBeGreaterThan(0.4 * measures.unexplained);
  });

  test('noise under a tone counts as unexplained by its share of the power, and hardly as tones', () => {
    // 3 of 8 kHz are looked at, so noise 4.26 dB under the tone is 0.14 of it there: 0.12 of all.
    const sound = over(tone(steady(220), 3), noise(3 * RATE, 0.1), 4.26);
    const measures = measureSource(sound, RATE)!;
    expect(measures.unexplained).toBeGreaterThan(0.07);
    expect(measures.unexplained).toBeLessThan(0.18);
    expect(measures.otherTones).toBeLessThan(0.25 * measures.unexplained);
  });

  test('a bass below counts by its share of the power', () => {
    const melody = tone(steady(400), 3, { partials: [1] });
    const sound = over(melody, tone(steady(110), 3, { partials: [1] }), 10);
    expect(measureSource(sound, RATE)!.below).toBeCloseTo(1 / 11, 1);
  });

  test('pauses are as deep as the noise in them: −46 dB here, and not those before and after', () => {
    const sound = sing(TUNE, 4.3);
    const quiet = noise(sound.length, 0.001);
    const level = (x: Float32Array) => 10 * Math.log10(x.reduce((sum, v) => sum + v * v, 0) / x.length);
    const sung = level(sound.slice(0.5 * RATE, 0.9 * RATE));
    const measures = measureSource(
      sound.map((v, i) => v + quiet[i]),
      RATE,
    )!;
    // The generator's own faint noise adds to it; the high-pass takes a little away.
    expect(Math.abs(measures.pauseDb - (level(quiet) - sung))).toBeLessThan(2);
    const framed = new Float32Array(sound.length + 8 * RATE);
    framed.set(tone(steady(220), 4.3), 4 * RATE);
    expect(measureSource(framed, RATE)!.pauseDb).toBeGreaterThan(-3);
  });

  test('silence, one sample and nothing have no measures, and are left to the solo tracker', () => {
    for (const length of [0, 1, 100, RATE]) {
      expect(measureSource(new Float32Array(length), RATE)).toBeNull();
      expect(decide(new Float32Array(length))).toEqual({
        source: 'solo',
        mixProbability: 0,
        why: 'there is hardly any sound',
      });
    }
  });

  test('the gain changes nothing', () => {
    const loud = measureSource(voice, RATE)!;
    const soft = measureSource(
      voice.map((value) => 0.01 * value),
      RATE,
    )!;
    for (const name of ['unexplained', 'otherTones', 'below', 'pauseDb'] as const) {
      expect(Math.abs(soft[name] - loud[name])).toBeLessThan(0.02 * Math.abs(loud[name]) + 1e-4);
    }
  });
});

describe('a solo', () => {
  test.each([
    'hummed-little-star.m4a',
    'hummed-sharp.wav',
    'sung-amazing-grace.ogg',
    'sung-low.wav',
    'stereo-sung.flac',
    'whistled-brother-john.mp3',
    'piano-joy.opus',
  ])('%s', async (name) => {
    expect(decide(await fixture(name)).source).toBe('solo');
  });

  test('a voice in noise as loud as a quarter of it, also without pauses', () => {
    const hiss = noise(voice.length, 1);
    expect(decide(over(voice, hiss, 6)).source).toBe('solo');
    expect(decide(over(tone(chirp(200, 0.2), 5), hiss, 12)).source).toBe('solo');
  });

  test.each([0.5, 1, 5, 30])('noise alone, %f s', (seconds) => {
    expect(decide(noise(seconds * RATE, 0.1)).source).toBe('solo');
  });

  test('gives its reason in words', () => {
    expect(decide(voice)).toMatchObject({ source: 'solo', why: expect.stringMatching(/^[a-z ]+$/) });
  });
});

describe('a mix', () => {
  test.each([-3, 3, 9])('a voice %i dB over a band', (db) => {
    const { source, why, mixProbability } = decide(over(voice, band(12, ['chords', 'bass', 'drums']), db));
    expect(source).toBe('mix');
    expect(mixProbability).toBeGreaterThan(0.5);
    expect(why).toMatch(/^(one pitch at a time does not|other tones|a bass|the sound does not stop)/);
  });

  test('a voice with soft chords alone, no bass and no drums', () => {
    expect(decide(over(voice, band(12, ['chords']), 9)).source).toBe('mix');
  });
});

test('a long recording is judged by excerpts: the same as its part, in bounded time', () => {
  const song = over(voice, band(12, ['chords', 'bass', 'drums']), 3);
  const long = new Float32Array(20 * song.length);
  for (let k = 0; k < 20; k++) long.set(song, k * song.length);
  const begun = performance.now();
  expect(decide(long).source).toBe('mix');
  const longTook = performance.now() - begun;
  const again = performance.now();
  decide(song);
  // 240 s against 12 s, of which 20 s are looked at: not twice the work, and the levels of the whole.
  expect(longTook).toBeLessThan(8 * (performance.now() - again) + 200);
});
