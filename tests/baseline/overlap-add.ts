/** WSOLA: waveform similarity overlap-add (Verhelst & Roelands, ICASSP 1993). */
import { realFft } from '../../src/dsp/fft.js';
import { findAttacks } from '../../src/dsp/stretch/attacks.js';
import { followMap, timeMap } from '../../src/dsp/stretch/time-map.js';
import { hannWindow } from '../../src/dsp/window.js';

export function stretchByOverlap(
  samples: Float32Array,
  sampleRate: number,
  speed: number,
  frameSeconds = 0.03,
  reachSeconds = 0.012,
): Float32Array {
  const hop = Math.round((frameSeconds / 2) * sampleRate);
  const size = 2 * hop;
  const reach = Math.round(reachSeconds * sampleRate);
  const window = hannWindow(size);
  const length = Math.round(samples.length / speed);
  const out = new Float64Array(length + 2 * size);
  const attacks = findAttacks(samples, sampleRate);
  const source = followMap(
    timeMap(samples.length, speed, attacks, { beforeSamples: hop, afterSamples: size }),
  );
  const fftSize = 2 ** Math.ceil(Math.log2(size + 2 * reach + size));
  const fft = realFft(fftSize);
  const a = new Float64Array(fftSize),
    b = new Float64Array(fftSize),
    A = new Float64Array(fftSize + 2),
    B = new Float64Array(fftSize + 2);
  let previous = -hop;
  for (let f = 0; f * hop < length + hop; f++) {
    const wanted = Math.round(source(f * hop)) - hop;
    const natural = previous + hop;
    let at = wanted;
    if (f > 0 && Math.abs(natural - wanted) <= 0) at = natural;
    else if (f > 0) {
      // correlate natural continuation with candidates wanted-reach..wanted+reach
      a.fill(0);
      b.fill(0);
      for (let n = 0; n < size; n++) a[n] = samples[natural + n] ?? 0;
      for (let n = 0; n < size + 2 * reach; n++) b[n] = samples[wanted - reach + n] ?? 0;
      fft.spectrum(a, A);
      fft.spectrum(b, B);
      for (let k = 0; k <= fftSize / 2; k++) {
        const re = A[2 * k]! * B[2 * k]! + A[2 * k + 1]! * B[2 * k + 1]!;
        const im = A[2 * k]! * B[2 * k + 1]! - A[2 * k + 1]! * B[2 * k]!;
        A[2 * k] = re;
        A[2 * k + 1] = im;
      }
      fft.inverse(A, a);
      let energy = 0;
      for (let n = 0; n < size; n++) energy += b[n]! ** 2;
      let best = -Infinity;
      for (let lag = 0; lag <= 2 * reach; lag++) {
        const score = a[lag]! / Math.sqrt(energy + 1e-9);
        if (score > best) {
          best = score;
          at = wanted - reach + lag;
        }
        energy += b[lag + size]! ** 2 - b[lag]! ** 2;
        if (energy < 0) energy = 0;
      }
    }
    for (let n = 0; n < size; n++) out[f * hop + n]! += window[n]! * (samples[at + n] ?? 0);
    previous = at;
  }
  return Float32Array.from({ length }, (_, n) => out[n + hop]!);
}
