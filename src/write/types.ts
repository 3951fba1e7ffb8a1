import type { Finger } from '../hand/types.js';
import type { Note } from '../notes/types.js';
import type { HeardAs } from '../pitch/types.js';

/** What every reader of this folder gives: the notes, and the facts about them that the text or file states. */
export interface ReadNotes {
  /** In order of start, none overlapping the next. */
  readonly notes: readonly Note[];
  /** Cents above A4 = 440 Hz, 0 where nothing is said. */
  readonly tuningCents: number;
  /** Length of the recording in seconds, at least the end of the last note. */
  readonly seconds: number;
  /** Beats a minute, null where unknown, or where only `beats` tell it. */
  readonly bpm: number | null;
  /** Beats in a bar, null where unknown. */
  readonly beatsPerBar: number | null;
  /** What note a beat is: 4, a quarter, or 8, an eighth; null where unknown. */
  readonly beatUnit: 4 | 8 | null;
  /** Seconds of the first downbeat, null where unknown. */
  readonly firstDownbeat: number | null;
  /** Seconds of the beats, increasing, at least two; null where unknown, or where tempo and downbeat tell them. */
  readonly beats: readonly number[] | null;
  /** Numbers (from 1) of the notes that start a line, null where no lines are marked. */
  readonly lineStarts: readonly number[] | null;
  /** Fingers marked as settled, one a note, null where none is; absent in formats that hold none. */
  readonly fixedFingers?: readonly (Finger | null)[];
  /** What the recording was heard as, null where nothing is said. */
  readonly heardAs: HeardAs | null;
  /** One sentence each, for people: what was chosen or left out. */
  readonly warnings: readonly string[];
}

/** How words are set off on a terminal: each gives back the text, with colour codes or without. */
export interface Paint {
  readonly bold: (text: string) => string;
  readonly dim: (text: string) => string;
  readonly warn: (text: string) => string;
}
