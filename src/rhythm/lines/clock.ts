/** The time of notes as lines see it: in beats where the notes are written, in seconds where they are not. */
import { middleOf } from '../../dsp/median.js';
import type { WrittenNotes } from '../types.js';

/** A note as far as lines are concerned; times in seconds. */
export interface LineNote {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

export interface LineClock {
  /** Beats (seconds) of every onset, ascending; beat 0 is the start of bar 1. */
  readonly onsets: Float64Array;
  /** Beats (seconds) at which the last note ends. */
  readonly end: number;
  /** Onset interval before every note, positive; that of note 0 is 0. */
  readonly intervals: Float64Array;
  /** The median onset interval: what other times are measured by, so that tempo does not matter. */
  readonly unit: number;
  /** The mean onset interval, a pause counting as a long note: what silences and runs are measured by. */
  readonly mean: number;
  /** Beats a bar, or null where the notes are not written. */
  readonly bar: number | null;
}

/** Shortest onset interval as a share of the unit: notes that start together keep finite logarithms. */
const LEAST_SHARE = 0.05;

/** Onset intervals of more than this many median ones are pauses. */
const PAUSE_UNITS = 4;

/** The clock of some notes; notes of which a place is unknown count as not written at all. */
export function clockOf(notes: readonly LineNote[], written: WrittenNotes | null): LineClock {
  const last = notes.length - 1;
  const onsets = new Float64Array(notes.length);
  let end = notes[last]?.end ?? 0;
  let bar: number | null = null;
  if (written?.places.every((place) => place.bar !== null && place.beat !== null)) {
    bar = written.beatsPerBar;
    written.places.forEach((place, i) => {
      onsets[i] = (place.bar! - 1) * written.beatsPerBar + place.beat! - 1;
    });
    end = onsets[last]! + (written.places[last]?.beats ?? 0);
  } else {
    notes.forEach((note, i) => {
      onsets[i] = note.start;
    });
  }
  const plain = onsets.map((onset, i) => (i === 0 ? 0 : onset - onsets[i - 1]!));
  const middle = middleOf(plain.subarray(1)) ?? 1;
  const unit = middle > 0 ? middle : 1;
  const intervals = plain.map((interval, i) => (i === 0 ? 0 : Math.max(interval, LEAST_SHARE * unit)));
  const capped = intervals.reduce((sum, interval) => sum + Math.min(interval, PAUSE_UNITS * unit), 0);
  return { onsets, end, intervals, unit, mean: capped / Math.max(last, 1), bar };
}

/** Keeps an onset exactly half a bar after a bar line with that bar line. */
const TIE = 1e-6;

/** The bar line that a line starting here belongs to, counted from 0: the nearest, so that a pickup goes with what follows. */
export function barLineOf(onset: number, bar: number): number {
  return Math.round(onset / bar - TIE);
}
