/** What every container's reader gives to the decoder: facts of the header, and sound a block at a time. */
import type { Container } from './types.js';

/** Sound at the file's own rate. All channels have the same length; values may exceed ±1 or be non-finite. */
export interface PcmBlock {
  /** Hertz. */
  readonly sampleRate: number;
  readonly channels: readonly Float32Array[];
  /** True for silence in place of sound that could not be decoded. */
  readonly lost?: boolean;
}

export interface OpenAudio {
  readonly container: Container;
  /** Length in seconds by the container's own header, null where it has none. Never a reason to allocate. */
  readonly claimedSeconds: number | null;
  /** Seconds that the bytes can hold at most, where the coding tells (plain samples); absent elsewhere. */
  readonly heldSeconds?: number;
  /** True where the container's own checks say that bytes are missing or changed. */
  readonly damaged?: boolean;
  /** True where full scale means nothing, so that peaks beyond ±1 are scaled down instead of cut: float WAV. */
  readonly unboundedPeaks: boolean;
  /** The sound from the start; may be called again for a second pass. */
  blocks(): AsyncGenerator<PcmBlock>;
}

/** Lowest and highest sample rate that is read, in hertz. */
export const LOWEST_RATE = 8000;
export const HIGHEST_RATE = 192_000;
/** Most channels that are read: beyond any microphone array in use, and small enough to hold a block of. */
export const MOST_CHANNELS = 64;

/** The sentence for a recording with more. */
export function tooManyChannels(label: string, channels: number): string {
  return `${label} has ${channels} channels: up to ${MOST_CHANNELS} are read.`;
}
