/** Dividing a row of items into stretches. */

/**
 * First items of the stretches whose scores have the largest sum, by dynamic programming over their ends.
 *
 * @param count items in the row
 * @param longest most items in a stretch, at least 1
 * @param score of the stretch of items `from`..`to` − 1
 */
export function bestDivision(
  count: number,
  longest: number,
  score: (from: number, to: number) => number,
): number[] {
  const best = new Float64Array(count + 1).fill(Number.NEGATIVE_INFINITY);
  best[0] = 0;
  const origin = new Int32Array(count + 1);
  for (let to = 1; to <= count; to++) {
    for (let from = Math.max(0, to - longest); from < to; from++) {
      const total = best[from]! + score(from, to);
      if (total > best[to]!) {
        best[to] = total;
        origin[to] = from;
      }
    }
  }
  const starts: number[] = [];
  for (let to = count; to > 0; to = origin[to]!) starts.push(origin[to]!);
  return starts.reverse();
}
