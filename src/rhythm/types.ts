/** Where a note stands in the written music; every field is null while no beat is known. */
export interface Place {
  /** Bar number from 1; a pickup before the first downbeat is bar 0. */
  readonly bar: number | null;
  /** Beat in the bar from 1, fractional. */
  readonly beat: number | null;
  /** Written length in beats. */
  readonly beats: number | null;
}

/** A line of the song. */
export interface Line {
  /** Seconds. */
  readonly start: number;
  /** Seconds. */
  readonly end: number;
  /** Number of its first note, from 1. */
  readonly first: number;
  /** Number of its last note, from 1. */
  readonly last: number;
  /** Number (from 1) of the earlier line that it repeats, or null. */
  readonly like: number | null;
}
