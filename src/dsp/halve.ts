/** Half the sample rate, streaming, with no delay. */
import { kaiserWindow } from './kaiser.js';

export interface Halver {
  /** Index of its first output sample, on the clock of the outputs; below 0, since the filter reaches ahead. */
  readonly first: number;
  /** Takes the next samples and returns the output that is complete so far (possibly none). */
  push(samples: Float32Array): Float32Array;
  /** Returns the rest: the input is taken to be silent after its end. The halver is used up. */
  finish(): Float32Array;
}

/**
 * Every second sample, after a half-band filter (F. Mintzer, "On half-band, third-band and Nth-band FIR filters
 * and their design", IEEE Trans. ASSP 30(5), 1982): its taps at even distances are 0 but for the middle one, so
 * that it takes few multiplications. Windowed sinc with Kaiser's window, scaled to a sum of 1.
 *
 * Output sample j lies at input sample 2j. Input before its first and after its last sample counts as 0, and the
 * outputs go as far to both sides as the filter reaches.
 *
 * @param attenuationDb of what would fold back, at least 50
 * @param transition width of the band around a quarter of the input's rate in which tones neither pass nor are
 *   taken out, cycles an input sample
 * @param firstInput index of the first input sample, on the clock of the inputs
 */
export function createHalver(attenuationDb: number, transition: number, firstInput: number): Halver {
  const window = kaiserWindow(attenuationDb, transition);
  // Distances of the taps: 1, 3, 5, …, `reach`.
  const pairs = Math.ceil((window.order / 2 + 1) / 2);
  const reach = 2 * pairs - 1;
  const taps = Float64Array.from({ length: pairs }, (_, k) => {
    const distance = 2 * k + 1;
    return (Math.sin((Math.PI * distance) / 2) / (Math.PI * distance)) * window.at(distance / (reach + 1));
  });
  const scale = 0.25 / taps.reduce((sum, tap) => sum + tap, 0);
  for (let k = 0; k < pairs; k++) taps[k]! *= scale;

  const first = Math.ceil((firstInput - reach) / 2);
  // buffer[k] is input sample bufferStart + k; zeros stand before the first.
  let bufferStart = 2 * first - reach;
  let buffer = new Float32Array(firstInput - bufferStart);
  let next = first;

  function push(samples: Float32Array): Float32Array {
    const joined = new Float32Array(buffer.length + samples.length);
    joined.set(buffer);
    joined.set(samples, buffer.length);
    const end = bufferStart + joined.length;
    const out = new Float32Array(Math.max(0, Math.floor((end - 1 - reach) / 2) - next + 1));
    for (let i = 0; i < out.length; i++) {
      const centre = 2 * (next + i) - bufferStart;
      let sum = 0.5 * joined[centre]!;
      for (let k = 0; k < pairs; k++) {
        sum += taps[k]! * (joined[centre - 2 * k - 1]! + joined[centre + 2 * k + 1]!);
      }
      out[i] = sum;
    }
    next += out.length;
    const spent = 2 * next - reach - bufferStart;
    buffer = joined.slice(spent);
    bufferStart += spent;
    return out;
  }

  return { first, push, finish: () => push(new Float32Array(2 * reach)) };
}
