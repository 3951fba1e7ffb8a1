/** What does not sit in the middle of a stereo recording. */
import { createPacker, type PackedSamples, unpack } from '../dsp/packed.js';
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

/** Zeros that stand for equal channels are added, and energies summed, so many at a time. */
const PIECE_SAMPLES = 65_536;

/**
 * Collects the side of a stereo stream as a keeper does, but does no work before the first sample in which the
 * channels differ: two equal channels, as many recorders write them, cost nothing.
 */
export function createSideKeeper(
  rate: number,
  part: { readonly from: number; readonly to: number },
  gain: number,
) {
  let keeper: Keeper<PackedSamples> | null = null;
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
        keeper = createKeeper(createPacker(), rate, part, SIDE_ATTENUATION_DB);
        for (let left = equalSamples; left > 0; left -= PIECE_SAMPLES) {
          keeper.add(new Float32Array(Math.min(left, PIECE_SAMPLES)));
        }
      }
      keeper.add(side);
    },
    /** The side, with what the resampler still holds; null where the channels never differed. */
    finish(): PackedSamples | null {
      keeper?.finish();
      return keeper?.take() ?? null;
    },
  };
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : 0;
}

/** The side where it can be heard beside the mono signal, else null. */
export function audibleSide(side: PackedSamples | null, mono: Float32Array): PackedSamples | null {
  return side !== null && packedEnergy(side) > LEAST_SHARE * energyOf(mono) ? side : null;
}

function packedEnergy(packed: PackedSamples): number {
  const room = new Float32Array(PIECE_SAMPLES);
  let energy = 0;
  for (let at = 0; at < packed.length; at += PIECE_SAMPLES) {
    // Beyond the end there are zeros.
    unpack(packed, at, room);
    energy += energyOf(room);
  }
  return energy;
}

function energyOf(samples: Float32Array): number {
  let energy = 0;
  for (let i = 0; i < samples.length; i++) energy += samples[i]! ** 2;
  return energy;
}
