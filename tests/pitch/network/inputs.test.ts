/** The networks' inputs against their definitions, worked out slowly, and against signals known in closed form. */
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { pack } from '../../../src/dsp/packed.js';
import { LOG_BINS, logSpectra, PITCH_BINS, writeStack } from '../../../src/pitch/network/harmonic.js';
import { levelGain } from '../../../src/pitch/network/level.js';
import { fineLevels, MEL_BANDS } from '../../../src/pitch/network/mel.js';
import { steady, tone } from '../signals.js';

const random = seededRandom(21);
const noise = (length: number, size = 0.5) =>
  Float32Array.from({ length }, () => random.between(-size, size));

/** |X[k]| by the definition, of a Hann-windowed frame around `centre`; bin k is k·16000/`size` Hz. */
function magnitudeByDefinition(x: Float32Array, centre: number, window: number, size: number, k: number) {
  const cosine = COSINES[size]!;
  let [re, im] = [0, 0];
  for (let n = 0; n < window; n++) {
    const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / window);
    const value = w * (x[centre - window / 2 + n] ?? 0);
    re += value * cosine[(k * n) % size]!;
    im += value * cosine[(k * n + size / 4) % size]!;
  }
  return Math.hypot(re, im);
}

/** One turn of a cosine, by the number of steps. */
const COSINES: Record<number, Float64Array> = Object.fromEntries(
  [512, 4096].map((size) => [
    size,
    Float64Array.from({ length: size }, (_, n) => Math.cos((2 * Math.PI * n) / size)),
  ]),
);

function spectraOf(samples: Float32Array, side: Float32Array | null, frames: number): Float32Array {
  const out = new Float32Array(frames * LOG_BINS);
  logSpectra().write({ samples, side: side && pack(side), gain: 1 }, 0, frames, out);
  return out;
}

/** The units of the networks: −80 dB is 0, 0 dB is 1. */
const dbOf = (units: number) => units * 80 - 80;
const binOf = (hz: number) => Math.round(60 * Math.log2(hz / 27.5));

describe('gain', () => {
  // The mean square of a sine of amplitude a is a²/2; −20 dB is a mean square of 0.01.
  test('brings a tone to −20 dB', () => {
    const gain = levelGain(tone(steady(500), 1, { partials: [1], gain: 0.5 }));
    expect(gain).toBeCloseTo(Math.sqrt(0.01 / 0.125), 3);
  });

  test('is not moved by pauses: only the loud part counts', () => {
    const sound = noise(5120);
    const withPause = new Float32Array(51_200);
    withPause.set(sound, 5120);
    expect(levelGain(withPause)).toBeCloseTo(levelGain(sound), 6);
  });

  test('weighs each block by its own power', () => {
    // Blocks of mean square 1 and 1/4: (1 + 1/16) / (1 + 1/4) = 0.85.
    const samples = new Float32Array(1024 + 100).map((_, i) => (i < 512 ? 1 : i < 1024 ? 0.5 : 1));
    expect(levelGain(samples)).toBeCloseTo(Math.sqrt(0.01 / 0.85), 6);
  });

  test.each([0, 300, 16_000])('is 1 for %i samples of silence', (length) => {
    expect(levelGain(new Float32Array(length))).toBe(1);
  });
});

describe('fine levels', () => {
  test('are the definition, at both ends and within', () => {
    const samples = noise(3000);
    const { mel, wholeDb } = fineLevels(samples, 1, 19);
    const edges = Array.from({ length: MEL_BANDS + 2 }, (_, e) => {
      const [low, high] = [60, 7600].map((hz) => 2595 * Math.log10(1 + hz / 700));
      return 700 * (10 ** ((low! + ((high! - low!) * e) / 41) / 2595) - 1);
    });
    for (const u of [0, 1, 9, 18]) {
      // 2 / (512 · sum of the squared window); that sum is 3/8 · 512 = 192.
      const power = Array.from(
        { length: 257 },
        (_, k) => (magnitudeByDefinition(samples, 160 * u, 512, 512, k) ** 2 * 2) / (512 * 192),
      );
      for (let b = 0; b < MEL_BANDS; b++) {
        const [from, peak, to] = [edges[b]!, edges[b + 1]!, edges[b + 2]!];
        const sum = power.reduce((total, p, k) => {
          const hz = k * 31.25;
          const weight = hz <= peak ? (hz - from) / (peak - from) : (to - hz) / (to - peak);
          return total + p * Math.max(0, weight);
        }, 0);
        expect(dbOf(mel[u * MEL_BANDS + b]!)).toBeCloseTo(10 * Math.log10(sum), 3);
      }
      const whole = power.slice(1, 244).reduce((a, b) => a + b, 0);
      expect(wholeDb[u]).toBeCloseTo(10 * Math.log10(whole), 3);
    }
  });

  test('tell the level of a tone: a full-scale sine is −3 dB, a gain of 1/10 is 20 dB less', () => {
    const sine = tone(steady(1000), 0.3, { partials: [1], gain: 1 });
    expect(fineLevels(sine, 1, 20).wholeDb[10]).toBeCloseTo(-3.01, 1);
    expect(fineLevels(sine, 0.1, 20).wholeDb[10]).toBeCloseTo(-23.01, 1);
  });

  test('are 0 in silence, and beyond the end of the signal', () => {
    const { mel } = fineLevels(noise(1600), 1, 20);
    expect(Math.max(...mel.subarray(12 * MEL_BANDS))).toBe(0);
    expect(Math.min(...mel.subarray(0, 11 * MEL_BANDS))).toBeGreaterThan(0.3);
  });
});

describe('log spectrum', () => {
  test('is the definition, at both ends and within', () => {
    const samples = noise(3200);
    const spectra = spectraOf(samples, null, 11);
    for (const t of [0, 7]) {
      const magnitude = Array.from(
        { length: 2049 },
        (_, k) => (magnitudeByDefinition(samples, 320 * t, 2048, 4096, k) * 2) / 1024,
      );
      for (let j = 0; j < LOG_BINS; j += 10) {
        const [below, centre, above] = [j - 1, j, j + 1].map((i) => (27.5 * 2 ** (i / 60)) / 3.90625);
        const left = Math.max(1, centre! - below!);
        const right = Math.max(1, above! - centre!);
        let [sum, weights] = [0, 0];
        magnitude.forEach((m, k) => {
          const w = Math.max(0, k <= centre! ? 1 - (centre! - k) / left : 1 - (k - centre!) / right);
          sum += w * m;
          weights += w;
        });
        const db = 20 * Math.log10(sum / weights + 1e-6);
        expect(dbOf(spectra[t * LOG_BINS + j]!)).toBeCloseTo(db, 3);
      }
    }
  });

  test.each([110, 220, 440])('peaks at the bin of a tone of %i Hz, at its amplitude', (hz) => {
    const spectra = spectraOf(tone(steady(hz), 0.4, { partials: [1], gain: 0.1 }), null, 20);
    const frame = spectra.subarray(10 * LOG_BINS, 11 * LOG_BINS);
    expect(frame.indexOf(Math.max(...frame))).toBe(binOf(hz));
    // Triangles average over a peak, so a little is lost.
    expect(dbOf(frame[binOf(hz)]!)).toBeGreaterThan(-23);
    expect(dbOf(frame[binOf(hz)]!)).toBeLessThan(-20);
  });

  test('a frame is the same whichever frame is written first', () => {
    const samples = noise(16_000);
    const whole = spectraOf(samples, null, 51);
    const part = new Float32Array(5 * LOG_BINS);
    logSpectra().write({ samples, side: null, gain: 1 }, 20, 5, part);
    expect(part).toEqual(whole.slice(20 * LOG_BINS, 25 * LOG_BINS));
  });
});

describe('the side', () => {
  const left = tone(steady(440), 0.4, { partials: [1], gain: 0.2 });
  const centre = tone(steady(1000), 0.4, { partials: [1], gain: 0.1 });
  const middleFrame = (spectra: Float32Array) => spectra.subarray(10 * LOG_BINS, 11 * LOG_BINS);

  test('a tone of one ear alone falls by 20 dB, a tone of both ears stays', () => {
    // A tone x on the left only is x/2 in the middle and x/2 in the side.
    const middle = left.map((x, i) => x / 2 + centre[i]!);
    const side = left.map((x) => x / 2);
    const without = middleFrame(spectraOf(middle, null, 20));
    const with_ = middleFrame(spectraOf(middle, side, 20));
    expect(dbOf(without[binOf(440)]!) - dbOf(with_[binOf(440)]!)).toBeCloseTo(20, 2);
    expect(with_[binOf(1000)]).toBeCloseTo(without[binOf(1000)]!, 3);
  });

  test('half as much in the side leaves half: 6 dB less', () => {
    const side = left.map((x) => x / 2);
    const fall =
      dbOf(middleFrame(spectraOf(left, null, 20))[binOf(440)]!) -
      dbOf(middleFrame(spectraOf(left, side, 20))[binOf(440)]!);
    expect(fall).toBeCloseTo(20 * Math.log10(2), 2);
  });

  test('a silent side changes nothing', () => {
    const samples = noise(6400);
    const without = spectraOf(samples, null, 20);
    const silent = spectraOf(samples, new Float32Array(samples.length), 20);
    silent.forEach((value, i) => {
      expect(Math.abs(value - without[i]!)).toBeLessThan(1e-6);
    });
  });
});

describe('harmonic stack', () => {
  test('every channel shows a harmonic of the pitch at the bin of the pitch', () => {
    // Bin 120 of the pitch is 220 Hz: half of it, it, and so on up to eight times.
    const wanted = [0.5, 1, 2, 3, 4, 5, 6, 8].map((h) => binOf(220 * h));
    const spectra = Float32Array.from({ length: 2 * LOG_BINS }, (_, i) => i);
    const stack = new Float32Array(8 * 2 * PITCH_BINS);
    writeStack(spectra, 2, stack);
    wanted.forEach((bin, h) => {
      expect(stack[(h * 2 + 0) * PITCH_BINS + 120]).toBe(bin);
      expect(stack[(h * 2 + 1) * PITCH_BINS + 120]).toBe(LOG_BINS + bin);
    });
  });

  test('is 0 above 8 kHz, also where the work space held something else', () => {
    const stack = new Float32Array(8 * PITCH_BINS).fill(9);
    writeStack(new Float32Array(LOG_BINS).fill(1), 1, stack);
    // Eight times 55·2^(k/60) Hz is over 8 kHz from bin 251 on: log bin 491.
    expect(stack[7 * PITCH_BINS + 250]).toBe(1);
    expect([...stack.subarray(7 * PITCH_BINS + 251)].every((x) => x === 0)).toBe(true);
  });
});
