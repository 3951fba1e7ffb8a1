/** Where the level of a recording is, told cheaply, and which parts of a long one stand for it. */

/** Seconds of one level. */
const LEVEL_SECONDS = 0.01;
/** What lies below, rumble and the hum of the mains, does not count as sound. */
const RUMBLE_HZ = 60;
/** Seconds that are looked at in all, and of one excerpt: ten, one from each tenth of a longer recording. */
const WHOLE_SECONDS = 20;
const EXCERPT_SECONDS = 2;

/**
 * Mean power of every 10 ms after a one-pole high-pass at 60 Hz; the last, incomplete one is left out.
 *
 * @param sampleRate a multiple of 100 Hz
 */
export function powersOf(samples: Float32Array, sampleRate: number): Float32Array {
  const block = Math.round(LEVEL_SECONDS * sampleRate);
  const follow = 1 - Math.exp((-2 * Math.PI * RUMBLE_HZ) / sampleRate);
  const powers = new Float32Array(Math.floor(samples.length / block));
  let low = 0;
  for (let i = 0; i < powers.length; i++) {
    let sum = 0;
    for (let k = i * block; k < (i + 1) * block; k++) {
      low += follow * (samples[k] - low);
      sum += (samples[k] - low) ** 2;
    }
    powers[i] = sum / block;
  }
  return powers;
}

/** A part of a recording, in numbers of levels. */
export interface Excerpt {
  readonly first: number;
  readonly length: number;
}

/** The whole of a recording of up to 20 s; of a longer one the loudest 2 s of each tenth. */
export function excerptsOf(powers: Float32Array): Excerpt[] {
  const most = WHOLE_SECONDS / LEVEL_SECONDS;
  const length = EXCERPT_SECONDS / LEVEL_SECONDS;
  if (powers.length <= most) return [{ first: 0, length: powers.length }];
  const parts = most / length;
  return Array.from({ length: parts }, (_, part) => {
    const from = Math.floor((part * powers.length) / parts);
    const to = Math.floor(((part + 1) * powers.length) / parts);
    return { first: loudest(powers, from, to, length), length };
  });
}

/** Start of the `length` levels with the greatest sum between `from` and `to`. */
function loudest(powers: Float32Array, from: number, to: number, length: number): number {
  let sum = 0;
  for (let i = from; i < from + length; i++) sum += powers[i];
  let most = sum;
  let best = from;
  for (let start = from + 1; start + length <= to; start++) {
    sum += powers[start + length - 1] - powers[start - 1];
    if (sum > most) {
      most = sum;
      best = start;
    }
  }
  return best;
}
