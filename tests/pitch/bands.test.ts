import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { BAND_COUNT, bandLevels, FLOOR_DB } from '../../src/pitch/bands.js';
import { RATE, steady, tone } from './signals.js';

const gridFor = (samples: Float32Array) => ({
  hopSeconds: 0.01,
  firstCentreSeconds: 0,
  frameCount: Math.floor(samples.length / 160) + 1,
});
const levelsOf = (samples: Float32Array) => bandLevels(samples, RATE, gridFor(samples));
const sine = (hz: number, gain = 1, seconds = 0.3) => tone(steady(hz), seconds, { partials: [1], gain });
const INSIDE = { from: 2, to: -2 };

describe('levels', () => {
  // The mean square of a sine of amplitude 1 is 1/2: 10·log10(1/2) = −3.01 dB.
  test.each([150, 440, 1000, 3000, 6000])('a full-scale sine of %i Hz is −3 dB in every frame', (hz) => {
    for (const db of levelsOf(sine(hz)).levelDb.subarray(INSIDE.from, INSIDE.to)) {
      expect(Math.abs(db + 3.01)).toBeLessThan(0.3);
    }
  });

  test('a tenth of the amplitude is 20 dB less, in the whole and in the loudest band', () => {
    const [loud, soft] = [levelsOf(sine(440)), levelsOf(sine(440, 0.1))];
    expect(loud.levelDb[15]! - soft.levelDb[15]!).toBeCloseTo(20, 2);
    expect(loud.loudDb - soft.loudDb).toBeCloseTo(20, 2);
    const strongest = Math.max(...loud.bandDb.subarray(15 * BAND_COUNT, 16 * BAND_COUNT));
    const softer = Math.max(...soft.bandDb.subarray(15 * BAND_COUNT, 16 * BAND_COUNT));
    expect(strongest - softer).toBeCloseTo(20, 2);
  });

  test('silence, and no samples at all, lie at the floor', () => {
    for (const length of [0, 100, RATE]) {
      const { levelDb, bandDb, loudDb } = levelsOf(new Float32Array(length));
      expect([...levelDb, ...bandDb, loudDb].every((db) => db === FLOOR_DB)).toBe(true);
    }
  });
});

describe('bands', () => {
  // One tone inside each band, from the lowest band to the highest.
  test.each(
    [125, 265, 430, 630, 875, 1175, 1540, 1985, 2530, 3195, 4105, 6100].map((hz, band) => [hz, band]),
  )('a sine of %i Hz is loudest in band %i, and all there', (hz, band) => {
    const { bandDb, levelDb } = levelsOf(sine(hz));
    const frame = [...bandDb.subarray(15 * BAND_COUNT, 16 * BAND_COUNT)];
    expect(frame).toHaveLength(BAND_COUNT);
    expect(frame.indexOf(Math.max(...frame))).toBe(band);
    expect(levelDb[15]! - frame[band]!).toBeLessThan(0.5);
  });

  test('the bands of a frame add up to its level', () => {
    const random = seededRandom(8);
    const noise = Float32Array.from({ length: RATE / 4 }, () => random.between(-0.5, 0.5));
    const { bandDb, levelDb } = levelsOf(noise);
    levelDb.forEach((db, i) => {
      const frame = bandDb.subarray(i * BAND_COUNT, (i + 1) * BAND_COUNT);
      const sum = frame.reduce((power, band) => power + 10 ** (band / 10), 0);
      expect(10 * Math.log10(sum)).toBeCloseTo(db, 3);
    });
  });
});

test('a burst is loudest in the frame at its centre, and as loud in the frames just before as just after', () => {
  const samples = new Float32Array(RATE / 2);
  // 10 ms of noise around 0.25 s, mirrored about its middle.
  const random = seededRandom(9);
  for (let k = 0; k <= 80; k++) {
    const value = random.between(-1, 1);
    samples[RATE / 4 + k] = value;
    samples[RATE / 4 - k] = value;
  }
  const { levelDb } = levelsOf(samples);
  expect(levelDb.indexOf(Math.max(...levelDb))).toBe(25);
  expect(levelDb[24]).toBeCloseTo(levelDb[26]!, 3);
  expect(levelDb[23]).toBeCloseTo(levelDb[27]!, 3);
});

describe('loudDb', () => {
  test('is the level of a steady tone', () => {
    expect(levelsOf(sine(440, 0.5, 1)).loudDb).toBeCloseTo(-3.01 - 6.02, 0);
  });

  test('is not lowered by pauses', () => {
    const song = sine(440, 0.5, 1);
    const padded = new Float32Array(10 * RATE);
    padded.set(song, 4 * RATE);
    expect(Math.abs(levelsOf(padded).loudDb - levelsOf(song).loudDb)).toBeLessThan(0.3);
  });
});
