/** Noise that turns the steps of 16-bit samples into a steady hiss nobody hears. */
import { seeded } from '../dsp/seeded.js';

/**
 * The samples with noise of triangular density, one step of `bits` to either side, added before they are rounded
 * (Lipshitz, Wannamaker & Vanderkooy, JAES 40(5), 1992): the error of rounding then has no pitch and does not follow the
 * sound. The same noise every time. What is silent stays silent: a run of zeros has no error.
 */
export function dither(samples: Float32Array, bits: 16 | 24 = 16, seed = 1): Float32Array {
  const step = 2 ** (1 - bits);
  const random = seeded(seed);
  return samples.map((sample) => (sample === 0 ? 0 : sample + step * (random() - random())));
}
