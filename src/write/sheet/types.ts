/** What a sheet is made of. */
import type { PageSound } from '../../audio/types.js';
import type { Melody } from '../../melody.js';
import type { PitchTrack } from '../../pitch/types.js';
import type { NameSystem } from '../../theory/name-systems.js';

export interface SheetInput {
  /** Name of the song or file; it comes from outside. */
  readonly title: string;
  readonly melody: Melody;
  /** The melody in other keys and, with 0, in its own. */
  readonly keys: readonly { readonly semitones: number; readonly melody: Melody }[];
  /** How notes are named. */
  readonly names: NameSystem;
  /** Null where the melody was not heard from a recording. */
  readonly track: PitchTrack | null;
  /** The recording, to be played in the page; null: the piano alone. */
  readonly sound: PageSound | null;
}
