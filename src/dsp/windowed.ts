/**
 * Writes the samples from `start` on, each times its weight, to the beginning of `frame`, and zeros behind them. Beyond its
 * ends the signal is silence.
 *
 * @param start number of the first sample, which may be negative
 * @param window weights, at most as many as `frame` is long
 */
export function writeWindowed(
  samples: Float32Array,
  start: number,
  window: Float64Array,
  frame: Float32Array | Float64Array,
): void {
  const from = Math.min(Math.max(0, -start), window.length);
  const to = Math.max(from, Math.min(window.length, samples.length - start));
  frame.fill(0, 0, from);
  for (let j = from; j < to; j++) frame[j] = window[j]! * samples[start + j]!;
  frame.fill(0, to);
}
