/** The middle value, of two the mean; `values` must not be empty. */
export function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** The value with half of the weight on either side; `values` must not be empty, weights are positive. */
export function weightedMedian(values: readonly { value: number; weight: number }[]): number {
  const sorted = [...values].sort((a, b) => a.value - b.value);
  const half = sorted.reduce((sum, { weight }) => sum + weight, 0) / 2;
  let sum = 0;
  for (const { value, weight } of sorted) {
    sum += weight;
    if (sum >= half) return value;
  }
  return sorted.at(-1)!.value;
}

/** The middle value, the upper of two; undefined of none. */
export function middleOf(values: ArrayLike<number>): number | undefined {
  return Float64Array.from(values).sort()[values.length >> 1];
}
