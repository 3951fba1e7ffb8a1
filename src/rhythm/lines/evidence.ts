/** What speaks for a line at a note of written music. */
import { findBarReturns } from './bars.js';
import { barLineOf, type LineClock } from './clock.js';
import { findRepeats } from './repeats.js';

/** Onset intervals against the median one are kept within these doublings: a pause in the accompaniment is no stronger than a long note. */
export const INTERVAL_DOUBLINGS = { least: -2, most: 2.5 } as const;

/** Onset intervals against the bar are kept within these doublings. */
const BAR_DOUBLINGS = { least: -3, most: 1.5 } as const;

/** Every value is of order 1. */
export interface BoundaryEvidence {
  /** Doublings of the onset interval before it against the median one. */
  readonly interval: number;
  /** Doublings of the onset interval before it against a bar. */
  readonly bar: number;
  /** How rare so long an interval is: quarter of the doublings of one in so many. */
  readonly rare: number;
  /** Leap into it in octaves, at most 1. */
  readonly leap: number;
  /** A pattern of notes that is heard elsewhere begins here, ends before it, begins here and returns after whole bars. */
  readonly repeatBegins: number;
  readonly repeatEnds: number;
  readonly repeatInBars: number;
  /** Bars that are heard elsewhere begin with its bar line, or end there. */
  readonly barsBegin: number;
  readonly barsEnd: number;
  /** 1 for a pickup: it stands in the second half of a bar. */
  readonly pickup: number;
  /** 1 where it stands at the place in the bar of the first note of all: lines begin alike. */
  readonly likeFirst: number;
}

export const clamp = (value: number, least: number, most: number): number =>
  Math.min(Math.max(value, least), most);

/** For every onset interval, log2 of the notes there are for each one so long or longer (within a twentieth). */
function rarities(intervals: Float64Array): Float64Array {
  const sorted = intervals.slice(1).sort();
  return intervals.map((interval) => {
    let low = 0;
    let high = sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sorted[middle]! < 0.95 * interval) low = middle + 1;
      else high = middle;
    }
    return Math.log2(sorted.length / Math.max(sorted.length - low, 1));
  });
}

/** The evidence at every note, where bars are known; that of note 0 says nothing. */
export function boundaryEvidence(
  pitches: readonly number[],
  clock: LineClock,
  bar: number,
): BoundaryEvidence[] {
  const repeats = findRepeats(pitches, clock);
  const returns = findBarReturns(pitches, clock, bar);
  const rare = rarities(clock.intervals);
  return pitches.map((midi, i) => {
    const interval = Math.max(clock.intervals[i]!, 1e-3 * clock.unit);
    const onset = clock.onsets[i]!;
    const fromFirst = onset - clock.onsets[0]!;
    const line = barLineOf(onset, bar) - returns.first;
    return {
      interval: clamp(Math.log2(interval / clock.unit), INTERVAL_DOUBLINGS.least, INTERVAL_DOUBLINGS.most),
      bar: clamp(Math.log2(interval / bar), BAR_DOUBLINGS.least, BAR_DOUBLINGS.most),
      rare: rare[i]! / 4,
      leap: Math.min(Math.abs(midi - (pitches[i - 1] ?? midi)) / 12, 1),
      repeatBegins: repeats.begin[i]!,
      repeatEnds: repeats.end[i]!,
      repeatInBars: repeats.inBars[i]!,
      barsBegin: returns.begin[line] ?? 0,
      barsEnd: returns.end[line] ?? 0,
      pickup: onset / bar - Math.floor(onset / bar) > 0.5 + 1e-6 ? 1 : 0,
      likeFirst: Math.abs(fromFirst / bar - Math.round(fromFirst / bar)) * bar < 1e-3 ? 1 : 0,
    };
  });
}
