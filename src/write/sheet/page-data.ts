/** What the page's script is given, as JSON; times are seconds. */
import type { KeyDrawing } from './annotate.js';
import type { LineWords } from './line-view.js';

/** A line of the song: numbers of its first and last note, from 1, and the earlier line it is like. */
export interface SongLine {
  readonly first: number;
  readonly last: number;
  readonly like: number | null;
}

/** What does not change with the key. */
export interface Song {
  /** Names the song among others in the browser's store. */
  readonly id: string;
  /** Start and end of every note. */
  readonly times: readonly (readonly [start: number, end: number])[];
  readonly lines: readonly SongLine[];
  /** Where every line stands in its bar; null where no beat is known. */
  readonly counts: readonly LineCount[] | null;
  readonly keys: readonly { readonly semitones: number; readonly name: string }[];
  /** Kind and start of the recording in the page; null where there is none. */
  readonly sound: { readonly mediaType: string; readonly startSeconds: number } | null;
}

/** How a line is counted in. */
export interface LineCount {
  readonly beatSeconds: number;
  /** Clicks before the first note, and seconds from the last of them to it. */
  readonly clicks: number;
  readonly lastClickSeconds: number;
  readonly beatsPerBar: number;
}

/** The song in one key. */
export interface SongInKey {
  readonly midis: readonly number[];
  readonly drawing: KeyDrawing;
  readonly words: readonly LineWords[];
  /** The scales as list items. */
  readonly scales: string;
}
