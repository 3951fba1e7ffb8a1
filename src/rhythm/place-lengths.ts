/** Written lengths of notes whose written starts are known. */
import { countAt, type Track } from './track.js';

/** Lengths that are written without a tie, in 24ths of a quarter: sixteenth, triplet eighth, eighth, triplet quarter, … */
const SIMPLE = [6, 8, 12, 16, 18, 24, 36, 48, 72, 96] as const;

/** Silence in seconds before the next note that belongs to how a note is ended, and its spread: part of it in proportion to the interval. */
const ARTICULATION = { seconds: 0.06, spreadSeconds: 0.06, spreadShare: 0.15 } as const;

/** Nats that a written rest costs; and that its beginning costs on a beat, half a beat, or anywhere else. */
const REST = { cost: 3, beat: 0, half: 1, elsewhere: 4 } as const;

/**
 * Written lengths in 24ths of a quarter. A note lasts until the next one unless the silence before that is
 * likelier a rest than the way the note was ended: then the simple length that explains the silence best. The
 * last note takes the simple length nearest to the time it sounds.
 *
 * @param starts written starts in 24ths, in order
 * @param track 24ths of a quarter counted over seconds
 */
export function writtenLengths(
  notes: readonly { readonly start: number; readonly end: number }[],
  starts: readonly number[],
  track: Track,
): number[] {
  return notes.map((note, i) => {
    const sounding = countAt(track, note.end) - countAt(track, note.start);
    const next = notes[i + 1];
    if (next === undefined)
      return lastLength(starts[i]!, sounding + ARTICULATION.seconds * rateAt(track, note.end));
    const interval = starts[i + 1]! - starts[i]!;
    if (interval <= SIMPLE[0]) return Math.max(interval, 0);
    const seconds = next.start - note.start;
    const silence = next.start - note.end;
    const spread = ARTICULATION.spreadSeconds + ARTICULATION.spreadShare * seconds;
    const costOf = (length: number) => {
      const expected = ((interval - length) / interval) * seconds + ARTICULATION.seconds;
      const rest = length === interval ? 0 : REST.cost + endCost(starts[i]! + length);
      return rest + ((silence - expected) / spread) ** 2 / 2;
    };
    return cheapest([interval, ...SIMPLE.filter((length) => length < interval)], costOf);
  });
}

function lastLength(start: number, sounding: number): number {
  return cheapest(
    SIMPLE,
    (length) => (Math.log2(sounding / length) / 0.3) ** 2 + 0.3 * endCost(start + length),
  );
}

function endCost(at: number): number {
  if (at % 24 === 0) return REST.beat;
  return at % 12 === 0 ? REST.half : REST.elsewhere;
}

function rateAt(track: Track, seconds: number): number {
  return (countAt(track, seconds + 0.01) - countAt(track, seconds - 0.01)) / 0.02;
}

function cheapest(values: readonly number[], costOf: (value: number) => number): number {
  let best = values[0]!;
  for (const value of values) if (costOf(value) < costOf(best)) best = value;
  return best;
}
