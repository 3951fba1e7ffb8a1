/** How likely lines and sections of a length are. */
import { barLineOf, type LineClock } from './clock.js';

/** Deviation from a preferred length in doublings, as a log probability up to a constant. */
export function lengthScore(length: number, preferred: number, spreadDoublings: number): number {
  const deviation = Math.log2(length / preferred) / spreadDoublings;
  return (-deviation * deviation) / 2;
}

/** A score of a number of bars that is worked out once for each number. */
export function remembered(score: (bars: number) => number): (bars: number) => number {
  const known: number[] = [];
  return (bars) => {
    known[bars] ??= score(bars);
    return known[bars];
  };
}

/** What a stretch that crosses no bar line costs. */
const NO_BAR = -9;

/**
 * Score of the notes `from`..`to` − 1 by their bars, from the bar line of the first to that of the note after
 * them; of empty bars at the end as many count as suit best, since an interlude belongs to no line.
 *
 * @param score of a number of bars
 */
export function barsScore(
  clock: LineClock,
  bar: number,
  from: number,
  to: number,
  score: (bars: number) => number,
): number {
  const start = barLineOf(clock.onsets[from]!, bar);
  const lastOnset = clock.onsets[to - 1]!;
  const least = Math.max(Math.floor(lastOnset / bar + 1e-6) + 1 - start, 1);
  const next = to < clock.onsets.length ? barLineOf(clock.onsets[to]!, bar) - start : least;
  if (next < 1) return NO_BAR;
  // A start half a bar or more before its bar line is told by the distance from onset to onset.
  let best =
    to < clock.onsets.length
      ? score(Math.max(Math.round((clock.onsets[to]! - clock.onsets[from]!) / bar), 1))
      : Number.NEGATIVE_INFINITY;
  for (let bars = Math.min(least, next); bars <= Math.min(next, least + 8); bars++)
    best = Math.max(best, score(bars));
  return best;
}
