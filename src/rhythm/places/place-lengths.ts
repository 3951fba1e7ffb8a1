/** Written lengths of notes whose written starts are known. */
import { countAt, type Track } from '../beats/track.js';

/**
 * Lengths that are written without a tie, in 24ths of a quarter: sixteenth, triplet eighth, eighth, triplet
 * quarter, …
 */
const SIMPLE = [6, 8, 12, 16, 18, 24, 36, 48, 72, 96] as const;

/**
 * Silence in seconds before the next note that belongs to how a note is ended, and its spread: part of it in
 * proportion to the interval, up to one that is as long as a breath takes to matter.
 */
const ARTICULATION = { seconds: 0.06, spreadSeconds: 0.06, spreadShare: 0.08, longestSeconds: 1.5 } as const;

/**
 * Nats that a written rest costs, and that its beginning costs on a beat, half a quarter after one, or
 * anywhere else.
 */
const REST = { cost: 3, beat: 0, half: 1, elsewhere: 4 } as const;

/** Nats for a length that takes a tie to write. */
const TIE_COST = 1;

/**
 * Spread of the time that a last note sounds, in doublings, and how much of the cost of a rest its end has:
 * nothing follows.
 */
const LAST = { doublings: 0.2, restShare: 0.3 } as const;

/**
 * Written lengths in 24ths of a quarter. A note lasts until the next one unless the silence before that is
 * likelier a rest than the way the note was ended: then the length that explains the silence best, of those that
 * are simple or end on a beat. The last note takes the one nearest to the time it sounds.
 *
 * @param starts written starts in 24ths, in order
 * @param track 24ths of a quarter counted over seconds
 * @param beat 24ths of a quarter in a beat
 */
export function writtenLengths(
  notes: readonly { readonly start: number; readonly end: number }[],
  starts: readonly number[],
  track: Track,
  beat: number,
): number[] {
  return notes.map((note, i) => {
    const start = starts[i]!;
    const next = notes[i + 1];
    if (next === undefined) {
      const sounding = countAt(track, note.end + ARTICULATION.seconds) - countAt(track, note.start);
      const costOf = (length: number) =>
        (Math.log2(sounding / length) / LAST.doublings) ** 2 / 2 +
        LAST.restShare * endCost(start, length, beat);
      return cheapest(lengthsUnder(2 * sounding + beat, start, beat), costOf);
    }
    const interval = starts[i + 1]! - start;
    if (interval <= SIMPLE[0]) return interval;
    const seconds = next.start - note.start;
    const silence = next.start - note.end;
    const spread =
      ARTICULATION.spreadSeconds + ARTICULATION.spreadShare * Math.min(seconds, ARTICULATION.longestSeconds);
    const costOf = (length: number) => {
      const expected = ((interval - length) / interval) * seconds + ARTICULATION.seconds;
      const rest = length === interval ? 0 : REST.cost + endCost(start, length, beat);
      return rest + ((silence - expected) / spread) ** 2 / 2;
    };
    return cheapest([interval, ...lengthsUnder(interval, start, beat)], costOf);
  });
}

/** Simple lengths, and those from `start` to a beat, that are under a limit. */
function lengthsUnder(limit: number, start: number, beat: number): number[] {
  const lengths: number[] = SIMPLE.filter((length) => length < limit);
  for (let end = (Math.floor(start / beat) + 1) * beat; end - start < limit; end += beat) {
    if (end - start >= SIMPLE[0]) lengths.push(end - start);
  }
  return lengths;
}

function endCost(start: number, length: number, beat: number): number {
  const end = start + length;
  const tie = SIMPLE.some((simple) => simple === length) ? 0 : TIE_COST;
  if (end % beat === 0) return tie + REST.beat;
  return tie + (end % 12 === 0 ? REST.half : REST.elsewhere);
}

function cheapest(values: readonly number[], costOf: (value: number) => number): number {
  let best = values[0]!;
  for (const value of values) if (costOf(value) < costOf(best)) best = value;
  return best;
}
