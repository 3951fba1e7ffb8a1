import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { realFft } from '../../src/dsp/fft.js';

const random = seededRandom(11);
const noise = (size: number) => Float64Array.from({ length: size }, () => random.between(-1, 1));

/** |X[k]|² by the definition of the discrete Fourier transform. */
function powerByDefinition(x: Float64Array, k: number): number {
  let [re, im] = [0, 0];
  x.forEach((value, n) => {
    re += value * Math.cos((2 * Math.PI * k * n) / x.length);
    im -= value * Math.sin((2 * Math.PI * k * n) / x.length);
  });
  return re * re + im * im;
}

function powerOf(x: Float64Array): Float64Array {
  const power = new Float64Array(x.length / 2 + 1);
  realFft(x.length).powerSpectrum(x, power);
  return power;
}

describe('powerSpectrum', () => {
  test.each([4, 8, 32, 64, 512])('is the transform of the definition at %i samples', (size) => {
    const x = noise(size);
    const power = powerOf(x);
    expect(power).toHaveLength(size / 2 + 1);
    power.forEach((value, k) => {
      expect(value).toBeCloseTo(powerByDefinition(x, k), 7);
    });
  });

  test('a cosine of 5 periods lies in bin 5 alone, with (size/2)²; a constant in bin 0, with size²', () => {
    const cosine = powerOf(Float64Array.from({ length: 64 }, (_, n) => Math.cos((2 * Math.PI * 5 * n) / 64)));
    const constant = powerOf(new Float64Array(64).fill(1));
    for (let k = 0; k <= 32; k++) {
      expect(cosine[k]).toBeCloseTo(k === 5 ? 32 ** 2 : 0, 9);
      expect(constant[k]).toBeCloseTo(k === 0 ? 64 ** 2 : 0, 9);
    }
  });

  test('an impulse holds every frequency alike, wherever it is', () => {
    for (const at of [0, 1, 17]) {
      const x = new Float64Array(32);
      x[at] = 1;
      for (const value of powerOf(x)) expect(value).toBeCloseTo(1, 12);
    }
  });
});

describe('autocorrelation', () => {
  test.each([4, 8, 64, 512])('is the circular sum of the definition at %i samples', (size) => {
    const x = noise(size);
    const out = new Float64Array(size / 2 + 1);
    realFft(size).autocorrelation(powerOf(x), out);
    out.forEach((value, k) => {
      let sum = 0;
      for (let n = 0; n < size; n++) sum += x[n]! * x[(n + k) % size]!;
      expect(value).toBeCloseTo(sum, 9);
    });
  });
});

test('a transform that was used before gives the same as a fresh one, and leaves its input alone', () => {
  const used = realFft(64);
  const x = noise(64);
  const kept = Float64Array.from(x);
  const power = new Float64Array(33);
  const correlation = new Float64Array(33);
  used.powerSpectrum(noise(64), power);
  used.autocorrelation(power, correlation);
  used.powerSpectrum(x, power);
  expect(power).toEqual(powerOf(kept));
  expect(x).toEqual(kept);
  const powerKept = Float64Array.from(power);
  used.autocorrelation(power, correlation);
  expect(power).toEqual(powerKept);
});

test('two frames at once have the spectra that each has alone', () => {
  for (const size of [4, 64, 512]) {
    const [a, b] = [noise(size), noise(size)];
    const powers = [new Float64Array(size / 2 + 1), new Float64Array(size / 2 + 1)] as const;
    realFft(size).powerSpectra(a, b, ...powers);
    [a, b].forEach((x, i) => {
      powers[i]!.forEach((value, k) => {
        expect(value).toBeCloseTo(powerByDefinition(x, k), 7);
      });
    });
  }
});

describe('spectrum and inverse', () => {
  test.each([4, 32, 512])('are the transform of the definition, and back, at %i samples', (size) => {
    const x = noise(size);
    const fft = realFft(size);
    const half = new Float64Array(size + 2);
    fft.spectrum(x, half);
    for (let k = 0; k <= size / 2; k++) {
      let [re, im] = [0, 0];
      x.forEach((value, n) => {
        re += value * Math.cos((2 * Math.PI * k * n) / size);
        im -= value * Math.sin((2 * Math.PI * k * n) / size);
      });
      expect(half[2 * k]).toBeCloseTo(re, 9);
      expect(half[2 * k + 1]).toBeCloseTo(im, 9);
    }
    const again = new Float64Array(size);
    fft.inverse(half, again);
    again.forEach((value, n) => {
      expect(value).toBeCloseTo(x[n]!, 12);
    });
  });
});
