import type { PackedSamples } from '../dsp/packed.js';

/** Sample rate of every Recording in hertz: holds voices, whistling and consonants, and keeps an hour small. */
export const ANALYSIS_RATE = 16_000;

/** The containers and codecs that are read, told apart by content. */
export type Container =
  | 'wav'
  | 'rf64'
  | 'mp3'
  | 'flac'
  | 'ogg-vorbis'
  | 'ogg-opus'
  | 'mp4-aac'
  | 'mp4-alac'
  | 'adts-aac';

/** What the file itself said. */
export interface SourceFacts {
  readonly container: Container;
  /** Sample rate of the file in hertz. */
  readonly sampleRate: number;
  readonly channels: number;
  /** Length of what was decoded, in seconds. */
  readonly seconds: number;
  /** One sentence each, for people: damage, truncation, clamped samples. */
  readonly warnings: readonly string[];
}

/** A decoded recording: mono, finite, −1..1, at ANALYSIS_RATE. Sample i is at time i / sampleRate. */
export interface Recording {
  readonly samples: Float32Array;
  /**
   * Half the difference of left and right, as long as `samples` and on the same clock: what does not sit in the
   * middle of a stereo song. Null where there is none: one channel, or channels that differ by less than −60 dB.
   * Absent where it was not asked for. Packed: an hour takes 115 MB.
   */
  readonly side?: PackedSamples | null;
  /** Hertz. */
  readonly sampleRate: number;
  readonly source: SourceFacts;
}

/** A recording as it can be played in a web page. */
export interface PageSound {
  readonly bytes: Uint8Array;
  /** What browsers call the kind, such as `audio/mpeg`. */
  readonly mediaType: string;
  /** Seconds of the recording at which the bytes begin. */
  readonly startSeconds: number;
}
