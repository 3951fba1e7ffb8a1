/**
 * The melody: what every writer takes and every reader gives, whether it was heard, read from a note list
 * or read from MIDI. Types only; each part is defined by the stage that makes it.
 */
import type { Finger } from './hand/types.js';
import type { Note } from './notes/types.js';
import type { HeardAs } from './pitch/types.js';
import type { Line, Place } from './rhythm/types.js';
import type { ScaleCandidate } from './theory/types.js';

export interface MelodyNote extends Note, Place {
  /** Spelt for the key, ASCII with octave: `Bb4`. */
  readonly name: string;
  /** Number of its line, from 1. */
  readonly line: number;
  readonly finger: Finger;
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
  /** Quarter notes a minute, null while unknown. */
  readonly tempo: { readonly bpm: number | null };
  readonly meter: {
    readonly beatsPerBar: number | null;
    /** Seconds of the first downbeat. */
    readonly firstDownbeat: number | null;
  };
  readonly notes: readonly MelodyNote[];
  readonly lines: readonly Line[];
  /** Best first. */
  readonly scales: readonly ScaleCandidate[];
}
