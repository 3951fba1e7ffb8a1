/** The loudest moment of a signal between its samples too. */
import { kaiserWindow } from './kaiser.js';

/** Four times as many points and 12 samples on which each rests: the size of the filter in ITU-R BS.1770-5, Annex 2. */
const POINTS = 4;
const TAPS = 12;

const PHASES = Array.from({ length: POINTS - 1 }, (_, i) => {
  const window = kaiserWindow(60, 0.25);
  const taps = Float64Array.from({ length: TAPS }, (_, k) => {
    const x = k - (TAPS / 2 - 1) - (i + 1) / POINTS;
    return (Math.sin(Math.PI * x) / (Math.PI * x)) * window.at(x / (TAPS / 2));
  });
  const sum = taps.reduce((total, tap) => total + tap, 0);
  return taps.map((tap) => tap / sum);
});

/** The largest absolute value of the signal and of three points between each two samples, to some 0.2 dB up to 16 kHz at 44.1. */
export function truePeak(samples: Float32Array): number {
  let peak = 0;
  for (const sample of samples) peak = Math.max(peak, Math.abs(sample));
  // No point between can be more than a few times what its samples are: most of a signal is passed over.
  for (let i = 0; i < samples.length; i++) {
    if (Math.abs(samples[i]!) < peak / 4) continue;
    for (const taps of PHASES) {
      for (const offset of [0, 1]) {
        const from = i - offset - (TAPS / 2 - 1);
        let value = 0;
        for (let k = 0; k < TAPS; k++) value += taps[k]! * (samples[from + k] ?? 0);
        peak = Math.max(peak, Math.abs(value));
      }
    }
  }
  return peak;
}
