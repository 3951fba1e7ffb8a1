/** Beats further than this from those that the tempo tells, in seconds, make a tempo that varies (our choice). */
const EVEN_SECONDS = 0.005;

/**
 * Whether one tempo tells all the beats from the first.
 *
 * @param beats seconds, increasing
 * @param bpm beats a minute
 */
export function isSteady(beats: readonly number[], bpm: number): boolean {
  const span = 60 / bpm;
  const first = beats[0] ?? 0;
  return beats.every((time, i) => Math.abs(time - (first + i * span)) <= EVEN_SECONDS);
}
