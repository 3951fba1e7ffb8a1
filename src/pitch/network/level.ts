/** Hertz: the networks know signals at this sample rate only. */
export const NETWORK_RATE = 16_000;
/** Samples of the blocks whose power is measured: 32 ms. */
const BLOCK_SAMPLES = 512;
/** Power that the loud part of a signal is brought to: −20 dB relative to full scale. */
const LOUD_POWER = 10 ** (-20 / 10);

/**
 * The factor that brings a signal to the level at which the networks learned: the mean power of blocks of 32 ms,
 * where each block counts by its own power so that pauses do not lower it, becomes −20 dB. A last, shorter block
 * is left out. 1 for silence, and for less than one block.
 */
export function levelGain(samples: Float32Array): number {
  let sum = 0;
  let weighted = 0;
  for (let start = 0; start + BLOCK_SAMPLES <= samples.length; start += BLOCK_SAMPLES) {
    let power = 0;
    for (let i = start; i < start + BLOCK_SAMPLES; i++) power += samples[i] * samples[i];
    power /= BLOCK_SAMPLES;
    sum += power;
    weighted += power * power;
  }
  return sum > 0 && weighted > 0 ? Math.sqrt((LOUD_POWER * sum) / weighted) : 1;
}
