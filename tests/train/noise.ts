/** Steady noise under a recording, as of bad microphones and loud rooms. */
import type { Random } from '../../fixtures/maker/random.js';

/** Rooms and traffic fall with frequency, microphones hiss evenly; the first are more common. */
const PINK_CHANCE = 0.7;

/**
 * A copy with pink or white noise at a random level.
 *
 * @param overNoiseDb the recording's mean power over the noise's, decibels
 */
export function withNoise(
  samples: Float32Array,
  random: Random,
  overNoiseDb: { readonly lowest: number; readonly highest: number },
): Float32Array {
  const snrDb = random.between(overNoiseDb.lowest, overNoiseDb.highest);
  const next = random.chance(PINK_CHANCE) ? pinkNoise(random) : () => random.gauss();
  const noise = samples.map(next);
  const gain = Math.sqrt(energyOf(samples) / energyOf(noise)) * 10 ** (-snrDb / 20);
  return samples.map((value, i) => value + gain * noise[i]);
}

function energyOf(samples: Float32Array): number {
  let energy = 0;
  for (let i = 0; i < samples.length; i++) energy += samples[i] * samples[i];
  return energy;
}

/** White noise through three one-pole filters: falls by 3 dB an octave to within 0.5 dB (P. Kellet 1999, from memory). */
export function pinkNoise(random: Random): () => number {
  let low = 0;
  let middle = 0;
  let high = 0;
  return () => {
    const white = random.gauss();
    low = 0.99765 * low + 0.099046 * white;
    middle = 0.963 * middle + 0.2965164 * white;
    high = 0.57 * high + 1.0526913 * white;
    return low + middle + high + 0.1848 * white;
  };
}
