/** What a sheet is made of. */
import type { Melody } from '../../melody.js';
import type { PitchTrack } from '../../pitch/types.js';

/** The recording's own bytes, to be played in the page. */
export interface SheetSound {
  readonly bytes: Uint8Array;
  /** What browsers call the kind, such as `audio/mpeg`. */
  readonly mediaType: string;
  /** Seconds of the recording's time line at which these bytes begin. */
  readonly startSeconds: number;
}

export interface SheetInput {
  /** Name of the song or file; it comes from outside. */
  readonly title: string;
  readonly melody: Melody;
  /** The melody in other keys and, with 0, in its own. */
  readonly keys: readonly { readonly semitones: number; readonly melody: Melody }[];
  /** Null where the melody was not heard from a recording. */
  readonly track: PitchTrack | null;
  readonly sound: SheetSound | null;
}
