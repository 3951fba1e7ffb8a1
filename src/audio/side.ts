/** What does not sit in the middle of a stereo recording. */

/**
 * Energy of the side over that of the mono signal from which on there is a side at all: −60 dB. What lies below is
 * the trace of a lossy codec or of dither on one voice in two equal channels.
 */
const LEAST_SHARE = 1e-6;

/**
 * Half the difference of the first two channels, times a gain: left and right wherever there are two, and in the
 * order of WAV and FLAC (common practice) where there are more. Non-finite samples count as 0.
 */
export function sideOf(channels: readonly Float32Array[], gain: number): Float32Array {
  const [left, right] = channels;
  return left!.map((value, i) => (gain / 2) * (finite(value) - finite(right![i]!)));
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
