import { pairSpectra } from '../../dsp/wasm/pair-spectra.js';
import { hannWindow } from '../../dsp/window.js';
import { NETWORK_RATE } from './level.js';
import { levelUnits } from './units.js';

/** Samples between frames: 10 ms. */
export const FINE_HOP_SAMPLES = 160;
/** Bands of a frame. */
export const MEL_BANDS = 40;
/** Samples of one spectrum: 32 ms, short enough for a consonant. */
const WINDOW_SAMPLES = 512;
const BIN_HZ = NETWORK_RATE / WINDOW_SAMPLES;
/** The lowest and the highest edge of the bands, hertz: from the lowest voice to the sibilants. */
const LOWEST_HZ = 60;
const HIGHEST_HZ = 7600;
/** Bins that the level of the whole frame sums over: 31 Hz to 7.6 kHz. */
const WHOLE_FROM_BIN = 1;
const WHOLE_TO_BIN = 243;
/** Added to every power, so that silence has a level. */
const LEAST_POWER = 1e-12;

/** Levels of every frame; frame u is centred on sample u·FINE_HOP_SAMPLES. */
export interface FineLevels {
  readonly frameCount: number;
  /** Level of band b in frame u at `u * MEL_BANDS + b`, in the networks' units (units.ts), after the gain. */
  readonly mel: Float32Array;
  /** Level of the whole frame in decibels relative to full scale, after the gain. */
  readonly wholeDb: Float32Array;
}

/**
 * The levels of forty bands, evenly spaced on the mel scale (O’Shaughnessy 1987, "Speech communication":
 * 2595·log10(1 + f/700)), around every frame's centre: periodic Hann window of 32 ms, power spectrum, triangles
 * with peak 1 whose feet are the peaks of their neighbours. Beyond its ends the signal is silence.
 *
 * @param samples mono, at NETWORK_RATE
 * @param gain factor on the samples (level.ts)
 * @param frameCount frames wanted; those beyond the end of the signal are silent
 */
export function fineLevels(samples: Float32Array, gain: number, frameCount: number): FineLevels {
  const window = hannWindow(WINDOW_SAMPLES);
  // Parseval: two-sided power over (size · window power) is the mean square of the signal.
  const scale = 2 / (WINDOW_SAMPLES * window.reduce((sum, w) => sum + w * w, 0));
  const bands = melBands();
  const pair = pairSpectra(WINDOW_SAMPLES, 'power');
  const levels = {
    frameCount,
    mel: new Float32Array(frameCount * MEL_BANDS),
    wholeDb: new Float32Array(frameCount),
  };
  for (let u = 0; u < frameCount; u += 2) {
    load(samples, u, gain, window, pair.first);
    load(samples, u + 1, gain, window, pair.second);
    pair.transform();
    take(pair.ofFirst, u, bands, scale, levels);
    if (u + 1 < frameCount) take(pair.ofSecond, u + 1, bands, scale, levels);
  }
  return levels;
}

function load(
  samples: Float32Array,
  u: number,
  gain: number,
  window: Float64Array,
  frame: Float32Array,
): void {
  const start = u * FINE_HOP_SAMPLES - WINDOW_SAMPLES / 2;
  const from = Math.min(Math.max(0, -start), WINDOW_SAMPLES);
  const to = Math.max(from, Math.min(WINDOW_SAMPLES, samples.length - start));
  frame.fill(0, 0, from);
  for (let j = from; j < to; j++) frame[j] = samples[start + j] * gain * window[j];
  frame.fill(0, to);
}

/** Writes the levels of frame `u`, from its power spectrum. */
function take(
  power: Float32Array,
  u: number,
  bands: readonly Band[],
  scale: number,
  { mel, wholeDb }: FineLevels,
): void {
  for (let b = 0; b < MEL_BANDS; b++) {
    const { firstBin, weights } = bands[b];
    let sum = 0;
    for (let i = 0; i < weights.length; i++) sum += weights[i] * power[firstBin + i];
    mel[u * MEL_BANDS + b] = levelUnits(powerToDb(sum * scale));
  }
  let whole = 0;
  for (let k = WHOLE_FROM_BIN; k <= WHOLE_TO_BIN; k++) whole += power[k];
  wholeDb[u] = powerToDb(whole * scale);
}

/** The weights of a band, on neighbouring bins of the power spectrum. */
interface Band {
  readonly firstBin: number;
  readonly weights: Float64Array;
}

function melBands(): Band[] {
  const low = hzToMel(LOWEST_HZ);
  const step = (hzToMel(HIGHEST_HZ) - low) / (MEL_BANDS + 1);
  return Array.from({ length: MEL_BANDS }, (_, b) => {
    const [from, peak, to] = [b, b + 1, b + 2].map((edge) => melToHz(low + edge * step));
    const firstBin = Math.ceil(from / BIN_HZ);
    const weights = Float64Array.from({ length: Math.floor(to / BIN_HZ) - firstBin + 1 }, (_, i) => {
      const hz = (firstBin + i) * BIN_HZ;
      return Math.min((hz - from) / (peak - from), (to - hz) / (to - peak));
    });
    return { firstBin, weights };
  });
}

function hzToMel(hz: number): number {
  return 2595 * Math.log10(1 + hz / 700);
}

function melToHz(mel: number): number {
  return 700 * (10 ** (mel / 2595) - 1);
}

function powerToDb(power: number): number {
  return 10 * Math.log10(power + LEAST_POWER);
}
