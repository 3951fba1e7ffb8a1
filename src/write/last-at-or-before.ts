/** Index of the last of increasing numbers that is at or below a value, −1 where all are above it. */
export function lastAtOrBefore(numbers: readonly number[], value: number): number {
  let low = -1;
  let high = numbers.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (numbers[middle]! <= value) low = middle;
    else high = middle;
  }
  return low;
}
