/** Changes the speed of a sound and keeps its pitch: frames of its spectrum, laid out closer or wider. */
import { realFft } from '../fft.js';
import { hannWindow } from '../window.js';
import { findAttacks } from './attacks.js';
import { followMap, timeMap } from './time-map.js';

/**
 * Length of a frame in seconds, chosen on four made recordings (a low voice, a noisy voice, a piano, a band) among 23, 46,
 * 70 and 93 ms, by the distance of long- and short-time spectra to those of the recording: shorter ones smear what is
 * steady, longer ones what moves.
 */
const FRAME_SECONDS = 0.07;
/** Frames that overlap. Eight cost twice as much and measure no better. */
const OVERLAP = 4;

/**
 * A phase vocoder. Each frame of the result is taken from where the time map says; the phase of every spectral peak goes
 * on from the frame before by what it moves within one hop of the result, measured by a second frame one hop earlier
 * (Puckette, WASPAA 1995), and all bins around a peak turn with it (identity phase locking: Laroche & Dolson, IEEE TSAP
 * 7(3), 1999). Where an attack comes into the window, all take the recording's own phases (after Röbel, DAFx 2003), and
 * the map lets the attack pass at its own speed, so that it comes out as it was.
 *
 * Beside WSOLA (Verhelst & Roelands, ICASSP 1993) with the same time map it errs a fifth as much in pitch and keeps the
 * rise of attacks, of which WSOLA takes 6 to 10 dB at half the speed; `npm run evaluate -- DIR --only guide` prints both.
 *
 * @param sampleRate hertz
 * @param speed seconds of the recording a second of the result, above 0
 * @returns round(length / speed) samples; sample n belongs to about n · speed of the recording, and an attack exactly
 * @throws RangeError for a speed that is not above 0
 */
export function stretch(samples: Float32Array, sampleRate: number, speed: number): Float32Array {
  if (!(speed > 0)) throw new RangeError(`a speed of ${speed} is not above 0`);
  if (speed === 1) return samples.slice();
  const hop = 2 * Math.round((FRAME_SECONDS * sampleRate) / OVERLAP / 2);
  const size = hop * OVERLAP;
  const half = size / 2;
  const window = hannWindow(size);
  const fft = realFft(2 ** Math.ceil(Math.log2(size)));
  const length = Math.round(samples.length / speed);
  const out = new Float32Array(length + 2 * size);
  const attacks = findAttacks(samples, sampleRate);
  // An attack is in the window from half a frame before it on.
  const kept = { beforeSamples: half, afterSamples: half / 2 };
  const source = followMap(timeMap(samples.length, speed, attacks, kept));

  const frame = new Float64Array(fft.size);
  const now = new Float64Array(fft.size + 2);
  const earlier = new Float64Array(fft.size + 2);
  const result = new Float64Array(fft.size + 2);
  const power = new Float64Array(fft.size / 2 + 1);
  const spectrumAt = (centre: number, spectrum: Float64Array) => {
    const from = centre - half;
    frame.fill(0, size);
    for (let n = 0; n < size; n++) frame[n] = window[n]! * (samples[from + n] ?? 0);
    fft.spectrum(frame, spectrum);
  };

  let nextAttack = 0;
  // Frame f is centred at sample f·hop of the result; `out` begins half a frame earlier.
  for (let f = 0; f * hop < length + half; f++) {
    const centre = Math.round(source(f * hop));
    spectrumAt(centre, now);
    spectrumAt(centre - hop, earlier);
    for (let k = 0; k < power.length; k++) power[k] = now[2 * k]! ** 2 + now[2 * k + 1]! ** 2;
    let fresh = f === 0;
    while (nextAttack < attacks.length && centre + half >= attacks[nextAttack]!) {
      nextAttack++;
      fresh = true;
    }
    turnPeaks({ now, earlier, result, power, fresh });
    fft.inverse(result, frame);
    for (let n = 0; n < size; n++) out[f * hop + n]! += window[n]! * frame[n]!;
  }
  // Squared Hann windows a quarter apart add up to 3/2.
  for (let n = 0; n < out.length; n++) out[n]! *= 2 / 3;
  return out.subarray(half, half + length);
}

interface Frames {
  readonly now: Float64Array;
  readonly earlier: Float64Array;
  /** The frame of the result before, and then this one. */
  readonly result: Float64Array;
  readonly power: Float64Array;
  /** Whether all peaks take the phase of `now`. */
  readonly fresh: boolean;
}

/** Writes `now` into `result`, every region around a peak turned so that the peak goes on from the frame before. */
function turnPeaks({ now, earlier, result, power, fresh }: Frames): void {
  const last = power.length - 1;
  if (fresh) {
    result.set(now);
    return;
  }
  let from = 0;
  let peak = nextPeak(power, 0);
  while (peak >= 0) {
    const next = nextPeak(power, peak + 1);
    const to = next < 0 ? last : valley(power, peak, next);
    // The turn is what the phase of the result is ahead of that of the recording one hop earlier.
    const re = result[2 * peak]! * earlier[2 * peak]! + result[2 * peak + 1]! * earlier[2 * peak + 1]!;
    const im = result[2 * peak + 1]! * earlier[2 * peak]! - result[2 * peak]! * earlier[2 * peak + 1]!;
    const size = Math.hypot(re, im);
    const cos = size > 0 ? re / size : 1;
    const sin = size > 0 ? im / size : 0;
    for (let k = from; k <= to; k++) {
      const x = now[2 * k]!;
      const y = now[2 * k + 1]!;
      result[2 * k] = x * cos - y * sin;
      result[2 * k + 1] = x * sin + y * cos;
    }
    from = to + 1;
    peak = next;
  }
  for (let k = from; k <= last; k++) {
    result[2 * k] = now[2 * k]!;
    result[2 * k + 1] = now[2 * k + 1]!;
  }
}

/** The first bin from `from` on that is larger than its two neighbours on either side, −1 where there is none. */
function nextPeak(power: Float64Array, from: number): number {
  for (let k = Math.max(from, 2); k < power.length - 2; k++) {
    const p = power[k]!;
    if (p > power[k - 1]! && p >= power[k + 1]! && p > power[k - 2]! && p >= power[k + 2]!) return k;
  }
  return -1;
}

function valley(power: Float64Array, from: number, to: number): number {
  let least = from;
  for (let k = from + 1; k < to; k++) if (power[k]! < power[least]!) least = k;
  return least;
}
