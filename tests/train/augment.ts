/** Small changes of a context, so that the network does not learn one microphone, distance or vowel by heart. */
import type { Random } from '../../fixtures/maker/random.js';
import { BAND_COUNT } from '../../src/pitch/bands.js';

/** Values a frame in a context (src/pitch/context.ts): bands, whole level, periodicity, pitch. */
export const FRAME_VALUES = BAND_COUNT + 3;
/** One unit is 20 dB: 2.4 dB louder or softer, and 5 dB more or less in the highest band, the opposite in the lowest. */
const GAIN_SIGMA = 0.12;
const TILT_SIGMA = 0.25;
/** Contexts go no lower. */
const QUIETEST = -3;

/** Changes a context in place: one gain for all levels, one tilt over the bands, the same in all its frames. */
export function augment(context: Float32Array, random: Random): void {
  const gain = GAIN_SIGMA * random.gauss();
  const tilt = TILT_SIGMA * random.gauss();
  const middle = (BAND_COUNT - 1) / 2;
  for (let b = 0; b <= BAND_COUNT; b++) {
    const change = b < BAND_COUNT ? gain + (tilt * (b - middle)) / middle : gain;
    for (let at = b; at < context.length; at += FRAME_VALUES) {
      context[at] = Math.max(QUIETEST, context[at] + change);
    }
  }
}
