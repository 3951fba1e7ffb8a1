/**
 * Numbers as the writers print them. Rounding is to the nearest, and minus zero is never printed.
 */

/** `value` with exactly `decimals` decimals. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}

/** `value` with at most `decimals` decimals, no trailing zeros: 2, 2.5. */
export function short(value: number, decimals: number): string {
  return String(rounded(value, decimals));
}

/** `value` rounded to `decimals` decimals, as a number. */
export function rounded(value: number, decimals: number): number {
  return Number(fixed(value, decimals));
}
