import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createResampler } from '../../src/dsp/resample.js';

const OUT = 16_000;

function tone(hz: number, rate: number, length: number): Float32Array {
  return Float32Array.from({ length }, (_, i) => Math.sin((2 * Math.PI * hz * i) / rate + 0.3));
}

function resample(samples: Float32Array, inRate: number, outRate = OUT, step = samples.length): number[] {
  const resampler = createResampler(inRate, outRate);
  const out: number[] = [];
  for (let at = 0; at < samples.length; at += step)
    out.push(...resampler.push(samples.subarray(at, at + step)));
  return [...out, ...resampler.finish()];
}

/** Root mean square of `values` away from the ends, in decibels relative to a tone of amplitude 1. */
function levelDb(values: readonly number[]): number {
  const inner = values.slice(400, -400);
  return 10 * Math.log10((2 * inner.reduce((sum, value) => sum + value * value, 0)) / inner.length);
}

const RATES = [22_050, 44_100, 48_000, 96_000, 192_000];

describe('the filter, swept with tones', () => {
  for (const inRate of RATES) {
    test(`${inRate} Hz to 16 kHz: tones up to 6.9 kHz pass as they are, in level and in time`, () => {
      for (let hz = 50; hz <= 6900; hz += 685) {
        const out = resample(tone(hz, inRate, inRate / 5), inRate);
        const wanted = tone(hz, OUT, out.length);
        expect(levelDb(out.map((value, i) => value - wanted[i]!))).toBeLessThan(-90);
      }
    });

    test(`${inRate} Hz to 16 kHz: nothing from 8 kHz up comes through above −90 dB`, () => {
      for (const hz of [
        8005, 8050, 8100, 8300, 9000, 10_000, 10_900, 16_000, 20_000, 33_000, 47_000, 80_000, 95_000,
      ]) {
        if (hz >= inRate / 2) break;
        expect(levelDb(resample(tone(hz, inRate, inRate / 5), inRate))).toBeLessThan(-90);
      }
    });
  }

  test('upwards from 8 kHz: no image above 4 kHz, the tone as it was', () => {
    const out = resample(tone(3000, 8000, 1600), 8000);
    const wanted = tone(3000, OUT, out.length);
    expect(levelDb(out.map((value, i) => value - wanted[i]!))).toBeLessThan(-90);
  });
});

describe('time and length', () => {
  test('a constant is that constant, and a pulse at input sample k peaks at time k / rate', () => {
    const constant = resample(new Float32Array(4410).fill(0.5), 44_100);
    for (const value of constant.slice(200, -200)) expect(value).toBeCloseTo(0.5, 5);
    for (const k of [0, 441, 882, 3969]) {
      const pulse = new Float32Array(4410);
      pulse[k] = 1;
      const out = resample(pulse, 44_100);
      expect(out.indexOf(Math.max(...out))).toBe((k / 441) * 160);
    }
  });

  test('silence after the end changes nothing before it, however often the rate is halved', () => {
    for (const inRate of RATES) {
      const samples = Float32Array.from({ length: 3000 }, (_, i) => Math.sin(i * i));
      const longer = new Float32Array(6000);
      longer.set(samples);
      const out = resample(samples, inRate);
      expect(out).toEqual(resample(longer, inRate).slice(0, out.length));
    }
  });

  test('N samples become ceil(N · out / in), at any rate and cut into any blocks, with the same values', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 8000, max: 50_000 }),
        fc.integer({ min: 1, max: 1500 }),
        fc.integer({ min: 1, max: 700 }),
        (inRate, length, step) => {
          const samples = Float32Array.from({ length }, (_, i) => Math.sin(i * i));
          const whole = resample(samples, inRate);
          expect(whole).toHaveLength(Math.ceil((length * OUT) / inRate));
          expect(resample(samples, inRate, OUT, step)).toEqual(whole);
        },
      ),
      { numRuns: 10 },
    );
  });

  test('designed for 60 dB it keeps a tone of 1 kHz to −55 dB, and lets none from 9 kHz up fold back louder', () => {
    for (const hz of [1000, 9000, 12_000]) {
      const resampler = createResampler(44_100, OUT, 60);
      const out = [...resampler.push(tone(hz, 44_100, 44_100)), ...resampler.finish()].slice(500, -500);
      const wanted = tone(hz, OUT, OUT).slice(500, -500);
      const error = hz < OUT / 2 ? out.map((value, i) => value - wanted[i]!) : out;
      expect(levelDb(error)).toBeLessThan(-55);
    }
  });

  test('equal rates copy, and the copy is not the input', () => {
    const samples = Float32Array.of(1, 2, 3);
    const out = createResampler(OUT, OUT).push(samples);
    expect(out).toEqual(samples);
    expect(out).not.toBe(samples);
  });

  test('refuses rates that are not positive whole numbers', () => {
    for (const rate of [0, -1, 44_100.5, Number.NaN])
      expect(() => createResampler(rate, OUT)).toThrow(RangeError);
  });
});
