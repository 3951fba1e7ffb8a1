/** What does not sit in the middle of a stereo recording. */
import { createKeeper, type Keeper } from './keeper.js';

/**
 * Energy of the side over that of the mono signal from which on there is a side at all: −60 dB. What lies below is
 * the trace of a lossy codec or of dither on one voice in two equal channels.
 */
const LEAST_SHARE = 1e-6;

/**
 * Writes half the difference of the first two channels, times a gain: left and right wherever there are two, and in the
 * order of WAV and FLAC (common practice) where there are more. Non-finite samples count as 0.
 *
 * @returns whether they differ anywhere
 */
function writeSide(channels: readonly Float32Array[], gain: number, side: Float32Array): boolean {
  const left = channels[0]!;
  const right = channels[1]!;
  let differs = false;
  for (let i = 0; i < side.length; i++) {
    const difference = finite(left[i]!) - finite(right[i]!);
    side[i] = (gain / 2) * difference;
    if (difference !== 0) differs = true;
  }
  return differs;
}

/**
 * The side only tells which parts of a spectrum stand off the middle: what folds back may be as loud as −60 dB, which
 * takes three fifths of the multiplications.
 */
export const SIDE_ATTENUATION_DB = 60;

/** Zeros that stand for equal channels are added so many at a time. */
const ZEROS = 65_536;

/**
 * Collects the side of a stereo stream as a keeper does, but does no work before the first sample in which the
 * channels differ: two equal channels, as many recorders write them, cost nothing.
 */
export function createSideKeeper(rate: number, from: number, to: number, gain: number) {
  let keeper: Keeper | null = null;
  let equalSamples = 0;
  // One for all blocks.
  let room = new Float32Array(0);
  return {
    add(channels: readonly Float32Array[]): void {
      const { length } = channels[0]!;
      if (room.length < length) room = new Float32Array(length);
      const side = room.subarray(0, length);
      const differs = writeSide(channels, gain, side);
      if (keeper === null) {
        if (!differs) {
          equalSamples += length;
          return;
        }
        keeper = createKeeper(rate, from, to, SIDE_ATTENUATION_DB);
        for (let left = equalSamples; left > 0; left -= ZEROS) {
          keeper.add(new Float32Array(Math.min(left, ZEROS)));
        }
      }
      keeper.add(side);
    },
    /** The side, with what the resampler still holds; null where the channels never differed. */
    finish(): Float32Array | null {
      keeper?.finish();
      return keeper?.take() ?? null;
    },
  };
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : 0;
}

/** The side where it can be heard beside the mono signal, else null. */
export function audibleSide(side: Float32Array | null, mono: Float32Array): Float32Array | null {
  return side !== null && energyOf(side) > LEAST_SHARE * energyOf(mono) ? side : null;
}

function energyOf(samples: Float32Array): number {
  let energy = 0;
  for (let i = 0; i < samples.length; i++) energy += samples[i]! ** 2;
  return energy;
}
