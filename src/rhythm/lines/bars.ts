/** Where stretches of bars that return begin and end. */
import type { LineClock } from './clock.js';

/** For every bar line, from bar line `first` on. */
export interface BarReturns {
  readonly first: number;
  /** 0..1: how much better the bars after the line agree with other bars than those before it. */
  readonly begin: Float64Array;
  /** 0..1: how much worse the bars after the line agree with other bars than those before it. */
  readonly end: Float64Array;
}

/** Bars over which agreement is averaged on the side that agrees, and on the side that does not. */
const SPAN = { same: 4, other: 2 } as const;

/** Differences of agreement up to this are no evidence. */
const LEAST_CHANGE = 0.3;

/** How many bars apart music may return. */
const FARTHEST_BARS = 96;

/** What an onset at the same place with another pitch counts, against 1 for the same pitch. */
const RHYTHM_SHARE = 0.3;

/** Agreement of two empty bars: neither for nor against. */
const BOTH_EMPTY = 0.5;

/** Places told apart in a bar: triplets and sixteenths of every metre. */
const PLACES_PER_BEAT = 12;

interface Bar {
  readonly places: number[];
  readonly pitches: number[];
}

function barsOf(pitches: readonly number[], clock: LineClock, bar: number): { first: number; bars: Bar[] } {
  const numbers = Array.from(clock.onsets, (onset) => Math.floor(onset / bar + 1e-6));
  const first = numbers[0]!;
  const bars = Array.from({ length: numbers.at(-1)! - first + 2 }, (): Bar => ({ places: [], pitches: [] }));
  numbers.forEach((number, i) => {
    const own = bars[number - first]!;
    own.places.push(Math.round((clock.onsets[i]! - number * bar) * PLACES_PER_BEAT));
    own.pitches.push(pitches[i]!);
  });
  return { first, bars };
}

/** 0..1: share of the notes of the fuller bar that the other has at the same place, moved to the key that suits best. */
function agreement(a: Bar, b: Bar): number {
  const most = Math.max(a.places.length, b.places.length);
  if (most === 0) return BOTH_EMPTY;
  const moves: number[] = [];
  for (let i = 0, j = 0; i < a.places.length && j < b.places.length; ) {
    const difference = a.places[i]! - b.places[j]!;
    if (difference === 0) moves.push(a.pitches[i]! - b.pitches[j]!);
    if (difference <= 0) i++;
    if (difference >= 0) j++;
  }
  let alike = 0;
  for (const move of moves) {
    let same = 0;
    for (const other of moves) if (other === move) same++;
    alike = Math.max(alike, same);
  }
  return (alike + RHYTHM_SHARE * (moves.length - alike)) / most;
}

/** Mean of values `from`..`to` − 1 given their running sums; what lies outside counts as 0. */
function meanBetween(sums: Float64Array, from: number, to: number): number {
  const last = sums.length - 1;
  return (sums[Math.min(to, last)]! - sums[Math.max(from, 0)]!) / (to - from);
}

/**
 * For every distance in bars, the agreement of each bar with the one so far from it; a bar line where the
 * agreement sets in begins a return, one where it breaks off ends it (the checkerboard novelty of Foote 2000
 * along one diagonal at a time). The strongest distance counts. Steps of two and of four bars count more.
 */
export function findBarReturns(pitches: readonly number[], clock: LineClock, bar: number): BarReturns {
  const { first, bars } = barsOf(pitches, clock, bar);
  const count = bars.length;
  const begin = new Float64Array(count);
  const end = new Float64Array(count);
  for (let distance = 2; distance <= Math.min(count - 1, FARTHEST_BARS); distance++) {
    const sums = new Float64Array(count - distance + 1);
    for (let k = 0; k + distance < count; k++)
      sums[k + 1] = sums[k]! + agreement(bars[k]!, bars[k + distance]!);
    const share = distance % 4 === 0 ? 1 : distance % 2 === 0 ? 0.8 : 0.5;
    const span = Math.min(SPAN.same, distance);
    for (let k = 0; k + distance <= count; k++) {
      const sets = meanBetween(sums, k, k + span) - meanBetween(sums, k - SPAN.other, k) - LEAST_CHANGE;
      const breaks = meanBetween(sums, k - span, k) - meanBetween(sums, k, k + SPAN.other) - LEAST_CHANGE;
      for (const line of [k, k + distance]) {
        if (line >= count) continue;
        begin[line] = Math.max(begin[line]!, share * sets);
        end[line] = Math.max(end[line]!, share * breaks);
      }
    }
  }
  return { first, begin, end };
}
