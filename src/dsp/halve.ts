/** Half the sample rate, streaming, with no delay. */
import { kaiserWindow } from './kaiser.js';
import { filterKernels, HALVE_STEP } from './wasm/filters.js';

/** Inputs that are taken at a time, even. */
const CHUNK = 8192;

export interface Halver {
  /** Index of its first output sample, on the clock of the outputs; below 0, since the filter reaches ahead. */
  readonly first: number;
  /** Takes the next samples and returns the output that is complete so far (possibly none), good until the next call. */
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
  const exact = Float64Array.from({ length: pairs }, (_, k) => {
    const distance = 2 * k + 1;
    return (Math.sin((Math.PI * distance) / 2) / (Math.PI * distance)) * window.at(distance / (reach + 1));
  });
  const scale = 0.25 / exact.reduce((sum, tap) => sum + tap, 0);

  // What the filter still needs is kept apart as samples of even and of odd numbers, counted from the first one kept:
  // the middle of output i is odd sample i + pairs − 1. Zeros stand before the first input.
  const room = CHUNK / 2 + 2 * pairs + HALVE_STEP;
  const [taps, even, odd, out] = [0, 1, 2, 3].map((part) => part * (room + pairs + 1));
  const { memory, halve } = filterKernels(4 * (room + pairs + 1));
  memory[taps] = 0.5;
  for (let k = 0; k < pairs; k++) memory[taps + 1 + k] = exact[k]! * scale;
  const first = Math.ceil((firstInput - reach) / 2);
  let halved = new Float32Array(0);
  let kept = firstInput - (2 * first - reach);

  /** Takes at most CHUNK samples; returns how many outputs are complete then. */
  function take(samples: Float32Array): number {
    // The next sample's place among those of its kind, and where the one after it goes.
    const place = kept >> 1;
    const [here, next] = kept % 2 === 0 ? [even + place, odd + place] : [odd + place, even + place + 1];
    part(samples, memory, here, next);
    kept += samples.length;
    const ready = Math.max(0, (kept - 2 * reach + 1) >> 1);
    if (ready === 0) return 0;
    const at = 4 * (even + pairs - 1);
    halve(4 * out, 4 * (out + ready), 4 * (odd + pairs - 1), at, at + 4, 4 * taps, 4 * (taps + 1 + pairs));
    kept -= 2 * ready;
    for (const half of [even, odd]) memory.copyWithin(half, half + ready, half + ready + kept);
    return ready;
  }

  function push(samples: Float32Array): Float32Array {
    const most = (samples.length >> 1) + 2 * pairs;
    if (halved.length < most) halved = new Float32Array(most);
    let filled = 0;
    for (let at = 0; at < samples.length; at += CHUNK) {
      const ready = take(samples.subarray(at, at + CHUNK));
      halved.set(memory.subarray(out, out + ready), filled);
      filled += ready;
    }
    return halved.subarray(0, filled);
  }

  return { first, push, finish: () => push(new Float32Array(2 * reach)) };
}

/** Writes the first, third, … sample to `here` and on, and the others to `next` and on. */
function part(samples: Float32Array, memory: Float32Array, here: number, next: number): void {
  const { length } = samples;
  for (let i = 0; i < length; i += 2) memory[here + (i >> 1)] = samples[i]!;
  for (let i = 1; i < length; i += 2) memory[next + (i >> 1)] = samples[i]!;
}
