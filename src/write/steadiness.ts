/** Beats further than this from even spacing, in seconds, make a tempo that varies; rounding makes less. */
const EVEN_SECONDS = 0.002;

/**
 * Whether beats are evenly spaced, so that one tempo and one downbeat tell all of them. True of fewer than three.
 *
 * @param beats seconds, increasing
 */
export function isSteady(beats: readonly number[]): boolean {
  const last = beats.length - 1;
  const first = beats[0] ?? 0;
  const span = ((beats[last] ?? 0) - first) / Math.max(last, 1);
  return beats.every((time, i) => Math.abs(time - (first + i * span)) <= EVEN_SECONDS);
}
