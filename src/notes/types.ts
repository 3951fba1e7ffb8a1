/** One note as heard. */
export interface Note {
  /** Seconds from the start of the recording. */
  readonly start: number;
  /** Seconds from the start of the recording, later than `start`. */
  readonly end: number;
  /** The piano key, MIDI number 0..127, after the recording's tuning was taken out. */
  readonly midi: number;
  /** Fractional MIDI number as sung, before the recording's tuning is taken out. */
  readonly pitch: number;
  /** Probability 0..1 that the note is there with this key. */
  readonly confidence: number;
  /** The next likeliest key (MIDI number) when in doubt, else null. */
  readonly other: number | null;
}

/** The notes of one recording, in order of start, none overlapping the next. */
export interface HeardNotes {
  readonly notes: readonly Note[];
  /** How far the recording lies above A4 = 440 Hz, in cents, −50..50. */
  readonly tuningCents: number;
  /** Length of the recording in seconds. */
  readonly seconds: number;
}
