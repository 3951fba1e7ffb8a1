/** Beats that are given one by one. */
import type { Beats } from '../types.js';
import { countAt, secondsAt, type Track } from './track.js';

/** A last beat may come so much before the last note's end, in seconds: both were rounded to a millisecond. */
const ROUNDING_SECONDS = 0.0011;

/**
 * The beats as given, and more at the pace of the outermost where they do not begin a bar, hold the first downbeat,
 * reach back to half a beat after the first note, or last to the end. Whole bars are added, nothing is taken away,
 * so that beats that were written down come back as they were.
 *
 * @param seconds at least two, increasing
 * @param downbeat seconds of beat 1 of bar 1: the beat nearest to it; null: the first
 */
export function givenBeats(
  seconds: readonly number[],
  metre: { readonly beatsPerBar: number; readonly beatUnit: 4 | 8 },
  downbeat: number | null,
  first: number,
  end: number,
): Beats {
  const { beatsPerBar } = metre;
  const track: Track = { seconds, counts: seconds.map((_, i) => i) };
  // Rounding gives −0 as well as 0.
  const zero = downbeat === null ? 0 : Math.round(countAt(track, downbeat)) || 0;
  const barLine = (count: number) => zero + Math.floor((count - zero) / beatsPerBar) * beatsPerBar;
  const from = barLine(Math.min(0, zero, Math.ceil(countAt(track, first) - 0.5)));
  const last = seconds.length - 1;
  const lasts = seconds[last]! >= end - ROUNDING_SECONDS && last > zero;
  const to = lasts ? last : barLine(Math.max(countAt(track, end), zero)) + beatsPerBar;
  return {
    ...metre,
    seconds: Array.from({ length: to - from + 1 }, (_, i) => seconds[from + i] ?? secondsAt(track, from + i)),
    firstDownbeat: zero - from,
  };
}
