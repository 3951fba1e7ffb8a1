import { expect, test } from 'vitest';
import { pairSpectra } from '../../../src/dsp/wasm/pair-spectra.js';

const first = (n: number) => Math.sin(n * n) / 2;
const second = (n: number) => Math.cos(0.3 * n * n + 1) / 3 + 0.1;

/** |Σ x[n]·exp(−2πi·k·n/size)| by its definition. */
function magnitude(signal: (n: number) => number, size: number, k: number): number {
  let re = 0;
  let im = 0;
  for (let n = 0; n < size; n++) {
    const angle = (-2 * Math.PI * ((k * n) % size)) / size;
    re += signal(n) * Math.cos(angle);
    im += signal(n) * Math.sin(angle);
  }
  return Math.hypot(re, im);
}

// Even and odd powers of two: the odd ones end with a pass of radix 2.
for (const size of [16, 32, 64, 128, 1024]) {
  test(`the two spectra of ${size} samples are those of the definition, time after time`, () => {
    const magnitudes = pairSpectra(size, 'magnitude');
    const powers = pairSpectra(size, 'power');
    for (let time = 0; time < 2; time++) {
      for (const pair of [magnitudes, powers]) {
        for (let n = 0; n < size; n++) {
          pair.first[n] = first(n);
          pair.second[n] = second(n);
        }
        pair.transform();
      }
      for (let k = 0; k <= size / 2; k += size > 128 ? 37 : 1) {
        const wanted = [magnitude(first, size, k), magnitude(second, size, k)];
        expect(magnitudes.ofFirst[k]).toBeCloseTo(wanted[0]!, 4);
        expect(magnitudes.ofSecond[k]).toBeCloseTo(wanted[1]!, 4);
        expect(Math.sqrt(powers.ofFirst[k]!)).toBeCloseTo(wanted[0]!, 4);
        expect(Math.sqrt(powers.ofSecond[k]!)).toBeCloseTo(wanted[1]!, 4);
      }
    }
  });
}

test('of a loud frame the other hears nothing that counts: −130 dB', () => {
  const pair = pairSpectra(4096, 'magnitude');
  for (let n = 0; n < 4096; n++) {
    pair.first[n] = Math.sin(0.4 * n);
    pair.second[n] = 0;
  }
  pair.transform();
  expect(Math.max(...pair.ofSecond) / Math.max(...pair.ofFirst)).toBeLessThan(10 ** (-130 / 20));
});

test('two of the same size keep their frames and spectra apart', () => {
  const [own, other] = [pairSpectra(32, 'power'), pairSpectra(32, 'power')];
  own.first[0] = 3;
  own.transform();
  other.first[0] = 5;
  expect(own.first[0]).not.toBe(5);
  other.transform();
  // The power of a single sample is its square at every frequency.
  for (let k = 0; k <= 16; k++) {
    expect(own.ofFirst[k]).toBeCloseTo(9, 4);
    expect(other.ofFirst[k]).toBeCloseTo(25, 4);
  }
});
