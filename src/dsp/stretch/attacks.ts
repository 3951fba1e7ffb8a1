/** Moments at which the sound breaks out: a hammer, a drum, a plucked string, a hard consonant. */
import { realFft } from '../fft.js';
import { hannWindow } from '../window.js';

/** Frame and hop in seconds (our choice): short enough to place an attack to 3 ms. */
const FRAME_SECONDS = 0.012;
const HOP_SECONDS = 0.003;
/** A bin counts as rising where its power is so many times what it was 12 ms before. */
const RISE = 4;
/** Hops between the two frames that are compared: their windows do not overlap. */
const LAG = 4;
/** An attack lifts bins that hold this share of the frame's amplitude: of its power, high bins would hold nothing. */
const LEAST_SHARE = 0.62;
/** Attacks at least so far apart, in seconds. */
const LEAST_GAP_SECONDS = 0.06;
/** Frames this far below the loudest, in power, hold none: −45 dB. */
const QUIET = 10 ** -4.5;

/**
 * Attacks in samples from the start, increasing. By the share of a short spectrum that rises fast, as in onset detection
 * by high-frequency content and spectral flux (Bello et al., IEEE TSAP 13(5), 2005), with a share in place of a level so
 * that soft and loud passages count alike. A sung note that begins without a consonant is none.
 */
export function findAttacks(samples: Float32Array, sampleRate: number): number[] {
  const size = 2 ** Math.round(Math.log2(FRAME_SECONDS * sampleRate));
  const hop = Math.round(HOP_SECONDS * sampleRate);
  const window = hannWindow(size);
  const fft = realFft(size);
  const frame = new Float64Array(size);
  const spectra: Float64Array[] = Array.from({ length: LAG + 1 }, () => new Float64Array(size / 2 + 1));
  const frames = Math.max(0, Math.floor((samples.length - size) / hop) + 1);
  const share = new Float64Array(frames);
  const level = new Float64Array(frames);
  for (let f = 0; f < frames; f++) {
    const now = spectra[f % (LAG + 1)]!;
    const before = spectra[(f + 1) % (LAG + 1)]!;
    for (let n = 0; n < size; n++) frame[n] = window[n]! * samples[f * hop + n]!;
    fft.powerSpectrum(frame, now);
    let risen = 0;
    let all = 1e-12;
    for (let k = 1; k <= size / 2; k++) {
      const amplitude = Math.sqrt(now[k]!);
      all += amplitude;
      level[f]! += now[k]!;
      if (now[k]! > RISE * before[k]!) risen += amplitude;
    }
    share[f] = risen / all;
  }
  const quiet = QUIET * level.reduce((most, l) => Math.max(most, l), 0);
  const attacks: number[] = [];
  let best = -1;
  for (let f = LAG; f <= frames; f++) {
    const counts = f < frames && share[f]! >= LEAST_SHARE && level[f]! > quiet;
    if (counts) {
      if (best < 0 || share[f]! > share[best]!) best = f;
    } else if (best >= 0) {
      // The share is largest once the attack lies a quarter into the frame: measured, to 3 ms either way.
      const at = best * hop + size / 4;
      if (at - (attacks.at(-1) ?? Number.NEGATIVE_INFINITY) >= LEAST_GAP_SECONDS * sampleRate)
        attacks.push(at);
      best = -1;
    }
  }
  return attacks;
}
