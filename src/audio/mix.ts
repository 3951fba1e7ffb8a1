/** Many channels to one, a block at a time, watching for what makes a plain mean wrong. */

/** How channels become one: the mean, or one channel alone, times a gain. */
export interface Downmix {
  readonly gain: number;
  /** Number of the channel from 0, or null for the mean of all. */
  readonly channel: number | null;
}

export interface MixFacts {
  /** Finite samples, over all channels. */
  readonly finite: number;
  /** Samples that were not finite numbers, over all channels. */
  readonly nonFinite: number;
  /** Largest absolute value in a channel. */
  readonly peak: number;
}

/**
 * The mean counts as cancelled below this share of the energy that the mean of unrelated channels would have
 * (10 dB): unrelated or one-sided channels stay far above it, channels of opposite polarity fall to 0.
 */
const CANCELLED = 0.1;

/** A mixer for one pass over a recording. Non-finite samples count as 0. */
export function createMixer(downmix: Downmix) {
  let finite = 0;
  const seen: Seen = { nonFinite: 0, peak: 0 };
  let mixedEnergy = 0;
  const channelEnergy: number[] = [];
  // One for all blocks: fresh ones by the thousand keep the collector of memory busy.
  let mixed = new Float32Array(0);

  return {
    /**
     * The next samples in one channel, good until the next call; `channels` have one length and stay untouched.
     */
    mix(channels: readonly Float32Array[]): Float32Array {
      const length = channels[0]!.length;
      if (mixed.length < length) mixed = new Float32Array(length);
      const out = mixed.subarray(0, length).fill(0);
      const before = seen.nonFinite;
      channels.forEach((channel, number) => {
        const weight =
          downmix.channel === null
            ? downmix.gain / channels.length
            : number === downmix.channel
              ? downmix.gain
              : 0;
        channelEnergy[number] = (channelEnergy[number] ?? 0) + addChannel(channel, weight, out, seen);
      });
      finite += length * channels.length - (seen.nonFinite - before);
      mixedEnergy = withEnergyOf(out, mixedEnergy);
      return out;
    },
    facts: (): MixFacts => ({ finite, ...seen }),
    /**
     * A better way to mix the same recording, or null when this one is right. Channels that cancel: the louder
     * one alone. Peaks beyond full scale where the format allows them (`unboundedPeaks`): scaled down to it.
     */
    better(unboundedPeaks: boolean): Downmix | null {
      if (downmix.channel !== null || downmix.gain !== 1) return null;
      const unrelated = channelEnergy.reduce((sum, energy) => sum + energy, 0) / channelEnergy.length ** 2;
      const loudest = channelEnergy.indexOf(Math.max(...channelEnergy));
      const channel = channelEnergy.length > 1 && mixedEnergy < CANCELLED * unrelated ? loudest : null;
      const gain = unboundedPeaks && seen.peak > 1 ? 1 / seen.peak : 1;
      return channel === null && gain === 1 ? null : { gain, channel };
    },
  };
}

interface Seen {
  nonFinite: number;
  peak: number;
}

// The loops stand apart from the mixer, so that the fast code that the engine makes of them serves the next one too.

/** Adds a channel to `out`, counts what is not finite, and returns its energy. */
function addChannel(channel: Float32Array, weight: number, out: Float32Array, seen: Seen): number {
  let { nonFinite, peak } = seen;
  let energy = 0;
  for (let i = 0; i < channel.length; i++) {
    const value = channel[i]!;
    const size = Math.abs(value);
    if (size < Number.POSITIVE_INFINITY) {
      if (size > peak) peak = size;
      energy += value * value;
      out[i]! += weight * value;
    } else {
      nonFinite++;
    }
  }
  seen.nonFinite = nonFinite;
  seen.peak = peak;
  return energy;
}

function withEnergyOf(samples: Float32Array, before: number): number {
  let energy = before;
  for (let i = 0; i < samples.length; i++) energy += samples[i]! * samples[i]!;
  return energy;
}
