/**
 * The beats of a recording and the bars they make. A beat is a quarter note, and in bars of six (6/8) an
 * eighth.
 */
export interface Beats {
  /**
   * Seconds of every beat, increasing; at least two. The first begins the bar of the first note, which may be sung a
   * little before it, or an earlier bar where beats were given; the last comes after the last note's end. May be
   * negative.
   */
  readonly seconds: readonly number[];
  /** 2, 3, 4 or 6 where heard; any positive integer where given. */
  readonly beatsPerBar: number;
  /** What note a beat is: 4, a quarter, or 8, an eighth. */
  readonly beatUnit: 4 | 8;
  /** Index in `seconds` of beat 1 of bar 1; bars before it count 0, −1, … */
  readonly firstDownbeat: number;
}

/** Lines that belong together and may come again, such as a verse: the same letter, the same music. */
export interface Section {
  /** A, B, …, Z, AA, AB, …, by first appearance. */
  readonly letter: string;
  /** Number of its first line, from 1. */
  readonly first: number;
  /** Number of its last line, from 1. */
  readonly last: number;
}

/** Where a note stands in the written music; every field is null while no beat is known. */
export interface Place {
  /** Bar number from 1; a pickup before the first downbeat is bar 0. */
  readonly bar: number | null;
  /** Beat in the bar from 1, fractional (a third of a beat is 1/3, unrounded). */
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

/** The notes as written, where a beat is known: what lines and sections draw from the bars. */
export interface WrittenNotes {
  /** One place a note. */
  readonly places: readonly Place[];
  /** A positive integer. */
  readonly beatsPerBar: number;
}

/** What is known about the beat before the notes are looked at; null where it is not, and each wins over what is heard. */
export interface BeatsKnown {
  /** Beats a minute, in the unit of `beatUnit`. */
  readonly bpm: number | null;
  readonly beatsPerBar: number | null;
  readonly beatUnit: 4 | 8 | null;
  /** Seconds of the first downbeat. */
  readonly firstDownbeatSeconds: number | null;
  /** Seconds of every beat, increasing, at least two; left out or null where they are to be found. They win over `bpm`. */
  readonly beatSeconds?: readonly number[] | null;
}

/** Beats heard in the band of a recording. They may run at twice or half the written beat, and bars are unknown. */
export interface BandBeats {
  /** Seconds, increasing. */
  readonly seconds: readonly number[];
  /** 0..1: how sure the band's beat is. */
  readonly steadiness: number;
}

/** Which pitch classes sound in a recording with a band, twelve shares from C up that add up to 1; all 0 for silence. */
export interface BandHarmony {
  readonly chroma: readonly number[];
  /** Of the lowest voice. */
  readonly bass: readonly number[];
}
