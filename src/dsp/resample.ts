/**
 * Streaming change of sample rate by a windowed sinc, in bounded memory and with no delay.
 *
 * Own code rather than a package, because two things are needed together: recordings of any length pass
 * through block by block, and output sample n lies at time n / outRate exactly, from the first sample to the
 * last. Packages either need the whole signal or lose its tail.
 *
 * Source: J. O. Smith, "Digital Audio Resampling" (CCRMA, 2002), "Windowed sinc interpolation".
 */
import { createHalver, type Halver } from './halve.js';
import { type KaiserWindow, kaiserWindow } from './kaiser.js';
import { filterKernels, ROW_STEP } from './wasm/filters.js';

/** Attenuation in decibels that the window is designed for unless told; what comes out is measured below. */
const DESIGN_ATTENUATION_DB = 96;
/** Upper end of the flat band, as a share of the narrower of the two Nyquist bands: 6.9 kHz at 16 kHz. */
const FLAT_SHARE = 0.8625;
/**
 * A rate is halved first where at least this many times the rate wanted is left: the half-band filter then is short,
 * and the windowed sinc after it takes half as many taps.
 */
const LEAST_LEFT = 1.25;
/** Decibels by which halving errs less than the windowed sinc, so that together they err little more than it alone. */
const HALVING_MARGIN_DB = 12;

/** Inputs that are taken at a time, and the most outputs that are worked out at a time. */
const CHUNK = 8192;

export interface Resampler {
  /** Takes the next samples and returns the output that is complete so far (possibly none). */
  push(samples: Float32Array): Float32Array;
  /** Returns the rest: the input is taken to be silent after its end. The resampler is used up. */
  finish(): Float32Array;
}

/**
 * A resampler from `inRate` to `outRate` (whole hertz, greater than 0).
 *
 * Method: even rates far above the one wanted are halved (halve.ts), as often as there is room. Then output sample n
 * lies at input position n·inRate/outRate, which falls on one of outRate/gcd phases;
 * each phase has its own row of filter taps, made when first needed and scaled to a sum of 1 so that a
 * constant stays that constant. Input before the first and after the last sample counts as 0.
 *
 * Measured with tones every 131 Hz (487 Hz above 50 kHz) from 22.05, 44.1, 48, 96 and 192 kHz to 16 kHz, and
 * checked in tests/dsp/resample.test.ts: up to 6.9 kHz a tone comes out as it was, level and time, with an error
 * below −96 dB; −0.02 dB at 7 kHz, −4.3 dB at 7.4 kHz; from 8 kHz up everything is at least 97 dB down, so nothing
 * folds back.
 *
 * The output has ceil(N·outRate / inRate) samples for N input samples: every n whose time lies before N / inRate.
 * Equal rates copy the input. Cost: about 90·max(1, rate / outRate) multiplications an output sample, `rate` being
 * what halving leaves, and 12 to 20 for each halving an input sample.
 *
 * @param attenuationDb attenuation above the pass band, at least 50 (below, Kaiser has another formula); fewer decibels
 *   take fewer multiplications
 * @throws RangeError when a rate is not a positive whole number.
 */
export function createResampler(
  inRate: number,
  outRate: number,
  attenuationDb = DESIGN_ATTENUATION_DB,
): Resampler {
  for (const rate of [inRate, outRate]) {
    if (!Number.isInteger(rate) || rate <= 0)
      throw new RangeError(`sample rate ${rate} is not a positive whole number`);
  }
  if (inRate === outRate)
    return {
      push: (samples) => samples.slice(),
      finish: () => new Float32Array(0),
    };

  const halvers: Halver[] = [];
  let rate = inRate;
  for (; rate % 2 === 0 && rate / 2 >= LEAST_LEFT * outRate; rate /= 2) {
    const transition = (rate / 2 - outRate) / rate;
    halvers.push(createHalver(attenuationDb + HALVING_MARGIN_DB, transition, halvers.at(-1)?.first ?? 0));
  }
  const sinc = createSinc(rate, outRate, attenuationDb, halvers.at(-1)?.first ?? 0);
  let received = 0;
  return {
    push(samples) {
      received += samples.length;
      let rest = samples;
      for (const halver of halvers) rest = halver.push(rest);
      return sinc.push(rest);
    },
    finish() {
      let tail = new Float32Array(0);
      for (const halver of halvers) tail = joined(halver.push(tail).slice(), halver.finish());
      return sinc.finish(tail, Math.ceil((received * outRate) / inRate));
    },
  };
}

function joined(a: Float32Array, b: Float32Array): Float32Array<ArrayBuffer> {
  const both = new Float32Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}

interface Sinc {
  push(samples: Float32Array): Float32Array;
  /** Takes the last samples and returns the rest, so that `total` have been returned. */
  finish(samples: Float32Array, total: number): Float32Array;
}

/** The windowed sinc; the first sample pushed lies at index `first`, 0 or below, and output 0 at index 0. */
function createSinc(inRate: number, outRate: number, attenuationDb: number, first: number): Sinc {
  const divisor = gcd(inRate, outRate);
  const phases = outRate / divisor;
  const step = inRate / divisor;
  const kernel = designKernel(inRate, outRate, attenuationDb);
  const half = kernel.halfTaps;
  const rowLength = ROW_STEP * Math.ceil((2 * half) / ROW_STEP);
  // The buffer, the outputs, then the rows, in the memory of the kernels; pages without a row in them take no room.
  const outAt = CHUNK + 4 * rowLength;
  const rowsAt = outAt + CHUNK;
  const { memory, resample } = filterKernels(rowsAt + phases * rowLength);
  let rowsMade = 0;
  const hasRow = new Uint8Array(phases);

  // memory[k] is input sample bufferStart + k; `half` zeros stand before the first sample.
  let bufferStart = first - half;
  let filled = half;
  let returned = 0;
  // The next output lies at input position centre + phase / phases.
  let centre = 0;
  let phase = 0;

  /** Makes the rows of the next `count` outputs where they lack. */
  function makeRows(count: number): void {
    for (let i = 0, number = phase; i < count && rowsMade < phases; i++, number = (number + step) % phases) {
      if (hasRow[number] !== 0) continue;
      memory.set(kernel.row(number / phases), rowsAt + number * rowLength);
      hasRow[number] = 1;
      rowsMade++;
    }
  }

  /** Writes the next `count` outputs, at most CHUNK, into `out` from `at` on. */
  function write(out: Float32Array, at: number, count: number): void {
    makeRows(count);
    const rows = 4 * rowsAt;
    const rowBytes = 4 * rowLength;
    resample(
      4 * outAt,
      4 * (outAt + count),
      rows + phase * rowBytes,
      rows,
      rows + phases * rowBytes,
      4 * (centre - half + 1 - bufferStart),
      (step % phases) * rowBytes,
      4 * Math.floor(step / phases),
      rowBytes,
    );
    out.set(memory.subarray(outAt, outAt + count), at);
    const on = phase + count * step;
    centre += Math.floor(on / phases);
    phase = on % phases;
  }

  /** Writes what can be told of at most `limit` outputs into `out` from `at` on; returns how many. */
  function drain(out: Float32Array, at: number, limit: number): number {
    const end = bufferStart + filled;
    // Taps reach from centre − half + 1 to centre + half.
    const ready = Math.max(0, Math.ceil(((end - half - centre) * phases - phase) / step));
    const count = Math.min(ready, limit);
    for (let done = 0; done < count; done += CHUNK) write(out, at + done, Math.min(CHUNK, count - done));
    const spent = Math.min(centre - half + 1 - bufferStart, filled);
    if (spent > 0) {
      memory.copyWithin(0, spent, filled);
      filled -= spent;
      bufferStart += spent;
    }
    return count;
  }

  function take(samples: Float32Array, limit: number): Float32Array {
    const most = Math.ceil(((filled + samples.length) * phases) / step) + 1;
    const out = new Float32Array(Math.min(most, limit));
    let count = 0;
    for (let at = 0; at < samples.length; at += CHUNK) {
      const chunk = samples.subarray(at, at + CHUNK);
      memory.set(chunk, filled);
      filled += chunk.length;
      count += drain(out, count, limit - count);
    }
    returned += count;
    return out.subarray(0, count);
  }

  return {
    push: (samples) => take(samples, Number.POSITIVE_INFINITY),
    finish(samples, total) {
      const left = total - returned;
      const last = centre + Math.ceil((left * step) / phases);
      const missing = last + half + 1 - bufferStart - filled - samples.length;
      return take(joined(samples, new Float32Array(Math.max(0, missing))), left);
    },
  };
}

interface Kernel {
  readonly halfTaps: number;
  /** Taps for an output `fraction` (0 ≤ fraction < 1) of an input sample after its centre, in input order. */
  row(fraction: number): Float32Array;
}

/** Low-pass whose flat band ends at FLAT_SHARE of the narrower Nyquist band and whose stop band starts at its end. */
function designKernel(inRate: number, outRate: number, attenuationDb: number): Kernel {
  const nyquist = Math.min(inRate, outRate) / 2;
  const transition = (nyquist * (1 - FLAT_SHARE)) / inRate; // cycles an input sample
  const cutoff = (nyquist * (1 + FLAT_SHARE)) / 2 / inRate; // middle of the transition
  const window = kaiserWindow(attenuationDb, transition);
  const halfTaps = 2 * Math.ceil(window.order / 4);

  return { halfTaps, row: (fraction) => rowOf(fraction, halfTaps, cutoff, window) };
}

/** @param cutoff cycles an input sample */
function rowOf(fraction: number, halfTaps: number, cutoff: number, window: KaiserWindow): Float32Array {
  const row = new Float64Array(2 * halfTaps);
  let sum = 0;
  for (let k = 0; k < row.length; k++) {
    const position = k - halfTaps + 1 - fraction;
    const x = 2 * Math.PI * cutoff * position;
    const sinc = x === 0 ? 1 : Math.sin(x) / x;
    row[k] = sinc * window.at(position / halfTaps);
    sum += row[k]!;
  }
  for (let k = 0; k < row.length; k++) row[k]! /= sum;
  return new Float32Array(row);
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
