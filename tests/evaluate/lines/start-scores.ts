/** How well found starts of lines or sections agree with phrases marked by hand. */

/** Half a bar of sixteen sixteenths. */
const TOLERANCE_SIXTEENTHS = 8;

export interface StartScores {
  readonly precision: number;
  readonly recall: number;
  readonly f: number;
  /** Found starts for every marked one. */
  readonly ratio: number;
}

/**
 * A found start is right when it is the first note at or after the marked bar line, or within half a bar of it;
 * one found start answers for one marked one. Both lists ascend, so that pairing the first free ones in order
 * makes the most pairs.
 *
 * @param onsets sixteenths of every note
 * @param found indices of notes, ascending
 * @param marked sixteenths of bar lines, ascending
 */
export function scoreStarts(
  onsets: readonly number[],
  found: readonly number[],
  marked: readonly number[],
): StartScores {
  let hits = 0;
  let next = 0;
  for (const line of marked) {
    const first = onsets.findIndex((onset) => onset >= line);
    const isRight = (note: number) =>
      note === first || Math.abs(onsets[note]! - line) <= TOLERANCE_SIXTEENTHS;
    while (next < found.length && !isRight(found[next]!) && onsets[found[next]!]! < line) next++;
    if (next < found.length && isRight(found[next]!)) {
      hits++;
      next++;
    }
  }
  const precision = found.length === 0 ? 0 : hits / found.length;
  const recall = hits / marked.length;
  return {
    precision,
    recall,
    f: hits === 0 ? 0 : (2 * precision * recall) / (precision + recall),
    ratio: found.length / marked.length,
  };
}

/** Against the reading that agrees better. */
export function scoreBetterReading(
  onsets: readonly number[],
  found: readonly number[],
  readings: readonly (readonly number[])[],
): StartScores {
  return readings
    .map((marked) => scoreStarts(onsets, found, marked))
    .reduce((best, scores) => (scores.f > best.f ? scores : best));
}
