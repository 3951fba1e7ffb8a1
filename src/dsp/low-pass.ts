/** Half the length of the filter in half-periods of the cut-off: 0.94 is left at ⅔ of the cut-off, 0.06 at 4⁄3. */
const HALF_PERIODS = 3;

/**
 * The signal without what lies above a frequency: a symmetric windowed-sinc filter (Hann window), so nothing
 * is delayed. Beyond its ends the signal counts as silence.
 *
 * @param cutoffHz half amplitude is left here
 * @param room where the result may be written, at least as long as the signal, which it must not be
 */
export function lowPass(
  samples: Float32Array,
  sampleRate: number,
  cutoffHz: number,
  room = new Float32Array(samples.length),
): Float32Array {
  const cutoff = cutoffHz / sampleRate;
  if (cutoff >= 0.5) return samples;
  const half = Math.ceil(HALF_PERIODS / (2 * cutoff));
  const taps = new Float64Array(half + 1);
  let sum = 0;
  for (let k = 0; k <= half; k++) {
    const x = 2 * cutoff * k;
    const sinc = k === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    taps[k] = sinc * (0.5 + 0.5 * Math.cos((Math.PI * k) / (half + 1)));
    sum += k === 0 ? taps[k] : 2 * taps[k];
  }
  const out = room.subarray(0, samples.length);
  for (let i = 0; i < samples.length; i++) {
    let y = taps[0] * samples[i];
    const inside = Math.min(half, i, samples.length - 1 - i);
    for (let k = 1; k <= inside; k++) y += taps[k] * (samples[i - k] + samples[i + k]);
    for (let k = inside + 1; k <= half; k++) y += taps[k] * ((samples[i - k] ?? 0) + (samples[i + k] ?? 0));
    out[i] = y / sum;
  }
  return out;
}
