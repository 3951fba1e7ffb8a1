/**
 * The melody: what every writer takes and every reader gives, whether it was heard, read from a note list
 * or read from MIDI. Types only; each part is defined by the stage that makes it.
 */
import type { Grade } from './hand/grade/types.js';
import type { Finger, HandPosition } from './hand/types.js';
import type { Note } from './notes/types.js';
import type { HeardAs } from './pitch/types.js';
import type { BandHarmony, Line, Place, Section } from './rhythm/types.js';
import type { RankedScale } from './theory/types.js';

export interface MelodyNote extends Note, Place {
  /** Spelt for the key, ASCII with octave: `Bb4`. */
  readonly name: string;
  /** Number of its line, from 1. */
  readonly line: number;
  readonly finger: Finger;
  /** Whether the finger was settled by hand and is kept; absent: worked out. */
  readonly fingerFixed?: boolean;
}

export interface Melody {
  readonly recording: {
    /** Length in seconds. */
    readonly seconds: number;
    /** What it was heard as; null where that is not known. */
    readonly heardAs: HeardAs | null;
  };
  /** Cents above A4 = 440 Hz, −50..50. */
  readonly tuningCents: number;
  readonly tempo: {
    /** Beats a minute (quarter notes, or eighths where `meter.beatUnit` is 8), null while unknown. */
    readonly bpm: number | null;
    /** Seconds of every beat from the first bar's start on, as in `Beats`; empty while unknown. */
    readonly beats: readonly number[];
  };
  readonly meter: {
    readonly beatsPerBar: number | null;
    /** What note a beat is: 4, a quarter, or 8, an eighth; null while no beat is known. */
    readonly beatUnit: 4 | 8 | null;
    /** Seconds of the first downbeat. */
    readonly firstDownbeat: number | null;
  };
  readonly notes: readonly MelodyNote[];
  readonly lines: readonly Line[];
  /** The form of the song: every line in exactly one section. */
  readonly sections: readonly Section[];
  /** Where the hand lies, position after position; absent where no fingers were worked out. */
  readonly hand?: readonly HandPosition[];
  /** Best first. */
  readonly scales: readonly RankedScale[];
  /** Which pitch classes sound in the recording, where there is a band: the ranking heeds them. */
  readonly harmony?: BandHarmony;
  /** How hard it is for a beginner's right hand. */
  readonly grade: Grade;
}
