/** The candidates and the path through them together: what the solo tracker takes as the pitch. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { bestPath } from '../../src/pitch/best-path.js';
import { MAX_CANDIDATES } from '../../src/pitch/candidates.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import {
  type Course,
  centsAbove,
  chirp,
  median,
  RATE,
  steady,
  tone,
  VOICE_LIKE,
  vibrato,
} from './signals.js';

const RANGE = { lowestHz: 55, highestHz: 1500 };
/** Frames at either end that reach over the end of the signal: half of 64 ms, in hops of 10 ms. */
const EDGE = 4;

const pathOf = (samples: Float32Array, range = RANGE) => bestPath(periodicity(samples, RATE, range));

/** Cents by which each frame inside the signal differs from the course at the frame's centre. */
function errors(course: Course, samples: Float32Array): number[] {
  const { pitch } = pathOf(samples);
  return [...pitch.subarray(EDGE, -EDGE)].map((p, i) => centsAbove(p, course.hz((i + EDGE) * 0.01)));
}

const largest = (values: readonly number[]) => Math.max(...values.map(Math.abs));
const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;

const GRID_HZ = [60, 73.4, 98, 131, 165, 220, 311, 440, 587, 784, 1047, 1245, 1400];

describe('steady tones', () => {
  test.each(GRID_HZ)('%f Hz is found within 2 cents at levels from −50 to 0 dB', (hz) => {
    for (const db of [-50, -20, 0]) {
      const gain = 10 ** (db / 20);
      const sine = errors(steady(hz), tone(steady(hz), 0.2, { partials: [1], gain }));
      const voice = errors(steady(hz), tone(steady(hz), 0.2, { gain: gain / 1.5 }));
      expect(Math.abs(median(sine))).toBeLessThan(2);
      expect(Math.abs(median(voice))).toBeLessThan(2);
    }
  });

  test.each([
    ['the first partial missing', [0, 1, 0.8, 0.6, 0.4]],
    ['a second partial three times as strong', [0.3, 1, 0.3, 0.2]],
    ['a third partial strongest', [0.3, 0.3, 1, 0.2, 0.3]],
    ['odd partials only', [1, 0, 0.5, 0, 0.25]],
    ['six partials alike', [1, 1, 1, 1, 1, 1]],
  ])('with %s no frame is off by an octave, nor by 5 cents', (_, partials) => {
    // From 700 Hz on the 3 kHz filter leaves of a missing fundamental too few partials to tell.
    for (const hz of [65, 98, 147, 220, 330, 523, 659]) {
      expect(largest(errors(steady(hz), tone(steady(hz), 0.2, { partials })))).toBeLessThan(5);
    }
  });

  test('in noise 20 dB below the tone the median stays within 5 cents', () => {
    const random = seededRandom(2);
    for (const hz of [98, 220, 440, 880]) {
      const samples = tone(steady(hz), 0.5);
      const noisy = samples.map((v) => v + random.between(-0.03, 0.03) * Math.sqrt(3));
      expect(Math.abs(median(errors(steady(hz), noisy)))).toBeLessThan(5);
    }
  });

  test('a steady tone is periodic nearly to the full', () => {
    const { strength } = pathOf(tone(steady(220), 0.3));
    for (const s of strength.subarray(EDGE, -EDGE)) expect(s).toBeGreaterThan(0.99);
  });
});

describe('the time of a frame', () => {
  const RATES = [-2, -1, -0.5, 0.5, 1, 2];

  test.each([
    ['sine', [1]],
    ['voice-like', VOICE_LIKE],
  ])('exponential chirps (%s) are followed with a mean error under 2 cents', (_, partials) => {
    for (const rate of RATES) {
      const course = chirp(300, rate);
      const found = errors(course, tone(course, 1, { partials }));
      expect(Math.abs(mean(found))).toBeLessThan(2);
      expect(largest(found)).toBeLessThan(12);
    }
  });

  test('over chirps up and down the error does not follow the slope: no delay of half a millisecond', () => {
    // A delay of d seconds reads −d·slope cents too high. Least squares with a constant, which is not a delay.
    for (const fromHz of [120, 300, 500]) {
      const points = RATES.filter((r) => fromHz * 2 ** r < 1400 && fromHz * 2 ** r > 60).map((rate) => {
        const course = chirp(fromHz, rate);
        return { slope: 1200 * rate, error: mean(errors(course, tone(course, 1))) };
      });
      const s = mean(points.map((p) => p.slope));
      const e = mean(points.map((p) => p.error));
      const product = mean(points.map((p) => (p.slope - s) * (p.error - e)));
      const square = mean(points.map((p) => (p.slope - s) ** 2));
      expect(points.length).toBeGreaterThanOrEqual(4);
      expect(Math.abs(product / square)).toBeLessThan(0.0005);
    }
  });

  test('a vibrato of ±50 cents, six times a second, comes out undelayed and hardly flattened', () => {
    const course = vibrato(330, 0.029, 6);
    const { pitch } = pathOf(tone(course, 1.5));
    let [product, square] = [0, 0];
    const found: number[] = [];
    for (let i = EDGE; i < pitch.length - EDGE; i++) {
      const t = i * 0.01;
      const slope = (1200 * Math.log2(course.hz(t + 1e-4) / course.hz(t - 1e-4))) / 2e-4;
      const error = centsAbove(pitch[i]!, course.hz(t));
      found.push(error);
      product += error * slope;
      square += slope * slope;
    }
    expect(Math.abs(product / square)).toBeLessThan(0.0005);
    expect(largest(found)).toBeLessThan(20);
    expect(Math.abs(mean(found))).toBeLessThan(1);
  });

  test('a note that enters late is found where it is: frames half-way over its start are the first', () => {
    const samples = new Float32Array(RATE);
    samples.set(tone(steady(220), 0.5), RATE / 2);
    const { count } = periodicity(samples, RATE, RANGE);
    const first = count.findIndex((c) => c > 0);
    expect(first).toBeGreaterThanOrEqual(50 - EDGE);
    expect(first).toBeLessThanOrEqual(50);
  });

  test('frames are 10 ms apart, the first at 0 s, the last within the signal', () => {
    const { grid } = periodicity(new Float32Array(1.005 * RATE), RATE, RANGE);
    expect(grid).toEqual({ hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 101 });
  });
});

describe('without a pitch', () => {
  test.each([0, 1, 100, 700, 16_000])('%i samples of silence give no candidate', (length) => {
    const { count, grid } = periodicity(new Float32Array(length), RATE, RANGE);
    expect(grid.frameCount).toBe(Math.floor(length / 160) + 1);
    expect(count.every((c) => c === 0)).toBe(true);
  });

  test('a constant gives no candidate away from its ends, and changes no pitch', () => {
    const { count } = periodicity(new Float32Array(RATE).fill(0.5), RATE, RANGE);
    expect(count.subarray(EDGE, -EDGE).every((c) => c === 0)).toBe(true);
    const lifted = tone(steady(220), 0.3).map((v) => v + 0.4);
    expect(largest(errors(steady(220), lifted))).toBeLessThan(2);
  });

  test('a tone shorter than one frame is still heard', () => {
    const { pitch, strength } = pathOf(tone(steady(440), 0.03));
    expect(Math.abs(centsAbove(pitch[1]!, 440))).toBeLessThan(20);
    expect(strength[1]).toBeGreaterThan(0.5);
  });

  test('tones outside the range give no candidate outside it', () => {
    const range = { lowestHz: 200, highestHz: 400 };
    for (const hz of [100, 180, 300, 600, 900]) {
      const { count, pitch } = periodicity(tone(steady(hz), 0.3), RATE, range);
      count.forEach((c, i) => {
        for (const p of pitch.subarray(i * MAX_CANDIDATES, i * MAX_CANDIDATES + c)) {
          expect(centsAbove(p, 200)).toBeGreaterThanOrEqual(-0.01);
          expect(centsAbove(p, 400)).toBeLessThanOrEqual(0.01);
        }
      });
    }
  });
});

describe('properties', () => {
  const midi = fc.double({ min: 40, max: 84, noNaN: true });
  const toneAt = (m: number) => tone(steady(440 * 2 ** ((m - 69) / 12)), 0.2);

  test('a signal 2, 4, … 64 times as soft has the very same candidates', () => {
    fc.assert(
      fc.property(midi, fc.integer({ min: 1, max: 6 }), (m, halvings) => {
        const loud = toneAt(m);
        const { pitch, count } = periodicity(loud, RATE, RANGE);
        const soft = periodicity(
          loud.map((v) => v / 2 ** halvings),
          RATE,
          RANGE,
        );
        expect(soft.count).toEqual(count);
        expect(soft.pitch).toEqual(pitch);
      }),
      { numRuns: 10 },
    );
  });

  test('a tone k semitones higher is k semitones higher', () => {
    fc.assert(
      fc.property(midi, fc.double({ min: -6, max: 6, noNaN: true }), (m, k) => {
        const middle = (x: Float32Array) => pathOf(x).pitch[10]!;
        expect(Math.abs(middle(toneAt(m + k)) - middle(toneAt(m)) - k)).toBeLessThan(0.02);
      }),
      { numRuns: 30 },
    );
  });

  test('no frame has more candidates than there is room for, and every strength is in 0..1', () => {
    const random = seededRandom(4);
    const noise = Float32Array.from({ length: RATE / 2 }, () => random.between(-1, 1));
    const low = tone(steady(58), 0.3, { partials: [1, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9] });
    for (const samples of [noise, low, tone(steady(1400), 0.3)]) {
      const { count, strength } = periodicity(samples, RATE, RANGE);
      expect(Math.max(...count)).toBeLessThanOrEqual(MAX_CANDIDATES);
      expect(strength.every((s) => s >= 0 && s <= 1)).toBe(true);
    }
  });
});

test('whatever the range, every candidate is a pitch inside it', () => {
  const voice = tone(vibrato(440, 0.02, 5.5), 0.6);
  for (let lowestHz = 41; lowestHz < 500; lowestHz += 13) {
    const { count, pitch, strength } = periodicity(voice, RATE, { lowestHz, highestHz: 1500 });
    count.forEach((kept, i) => {
      for (let k = i * MAX_CANDIDATES; k < i * MAX_CANDIDATES + kept; k++) {
        expect(pitch[k]).toBeGreaterThan(69 + 12 * Math.log2(lowestHz / 440) - 0.01);
        expect(strength[k]).toBeGreaterThan(0);
      }
    });
  }
});
