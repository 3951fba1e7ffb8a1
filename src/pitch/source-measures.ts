import { type RealFft, realFft } from '../dsp/fft.js';
import { hannWindow } from '../dsp/window.js';
import { writeWindowed } from '../dsp/windowed.js';
import { midiToHz } from '../units.js';
import { bestPath } from './best-path.js';
import { type Excerpt, excerptsOf, powersOf } from './excerpts.js';
import { HOP_SAMPLES, type PeriodicityRange, periodicity } from './periodicity.js';

/** What tells a voice or an instrument alone from a voice with a band. */
export interface SourceMeasures {
  /** Share 0..1 of the loud sound that does not repeat at the period of the strongest pitch. */
  readonly unexplained: number;
  /** How far, 0..1, the sound is made of tones that one pitch does not explain: noise of any strength counts little. */
  readonly otherTones: number;
  /** Share 0..1 of the loud sound that lies below the strongest pitch. */
  readonly below: number;
  /** Level of the pauses against that of the loud parts, decibels, −60..0. */
  readonly pauseDb: number;
}

/** The range of the solo tracker. */
const RANGE: PeriodicityRange = { lowestHz: 55, highestHz: 1500 };
/** Frames that are looked at: every second one, 20 ms apart. */
const FRAME_STEP = 2;
/** Samples of a spectrum: 128 ms at 16 kHz, long enough to part the tones of a chord. */
const FFT_SAMPLES = 2048;
/** Frames no softer than this against the loud parts are loud, or can be heard at all, decibels. */
const LOUD_DB = -12;
const AUDIBLE_DB = -30;
/** The pauses are as soft as the softest tenth between the first and the last audible moment. */
const PAUSE_SHARE = 0.1;
const DEEPEST_DB = -60;
/** Half an octave between neighbouring edges: bands in which noise is flat and tones stick out. */
const BAND_EDGES_HZ = [90, 130, 190, 270, 380, 540, 760, 1080, 1520, 2150, 3040];
/** Mean over geometric mean of a band's power: 2.5 dB in noise (e to Euler's constant), 12 dB and more in tones. */
const NOISE_CREST_DB = 4;
const TONE_CREST_DB = 12;
/** Sound below the pitch: from under the lowest bass to where the window's main lobe around the pitch ends. */
const LOWEST_BASS_HZ = 40;
const BELOW_SHARE = 0.72;
/** Power that counts as none, against log 0. */
const NOTHING = 1e-14;

/**
 * Measures a recording on at most 20 s of it, spread over its length: periods and the strongest pitch as the solo
 * tracker finds them (periodicity.ts, best-path.ts), and one spectrum every 20 ms.
 *
 * @returns null where nothing can be heard
 */
export function measureSource(samples: Float32Array, sampleRate: number): SourceMeasures | null {
  const powers = powersOf(samples, sampleRate);
  const loud = loudPower(powers);
  if (!(loud > NOTHING)) return null;
  const sums = { loud: 0, unexplained: 0, below: 0, audible: 0, otherTones: 0 };
  const spectrum = spectrumOf(sampleRate);
  for (const excerpt of excerptsOf(powers)) {
    const first = excerpt.first * HOP_SAMPLES;
    const part = samples.subarray(first, first + excerpt.length * HOP_SAMPLES);
    const path = bestPath(periodicity(part, sampleRate, RANGE));
    for (let i = 0; i < path.strength.length; i += FRAME_STEP) {
      const db = levelAround(powers, excerpt, i, loud);
      if (db < AUDIBLE_DB) continue;
      const { tonality, below } = measured(spectrum, part, i * HOP_SAMPLES, midiToHz(path.pitch[i]));
      const rest = 1 - path.strength[i];
      sums.audible++;
      sums.otherTones += tonality * rest;
      if (db < LOUD_DB) continue;
      sums.loud++;
      sums.unexplained += rest;
      sums.below += below;
    }
  }
  if (sums.loud === 0) return null;
  return {
    unexplained: sums.unexplained / sums.loud,
    otherTones: sums.otherTones / sums.audible,
    below: sums.below / sums.loud,
    pauseDb: pauseLevel(powers, loud),
  };
}

/** Mean power where each moment counts by its own power, so that pauses do not lower it. */
function loudPower(powers: Float32Array): number {
  let sum = 0;
  let weighted = 0;
  for (const power of powers) {
    sum += power;
    weighted += power * power;
  }
  return sum > 0 ? weighted / sum : 0;
}

/** Level of the 40 ms around a frame of an excerpt, decibels against the loud parts. */
function levelAround(powers: Float32Array, { first }: Excerpt, frame: number, loud: number): number {
  const from = Math.max(first + frame - 2, 0);
  const to = Math.min(first + frame + 2, powers.length);
  let sum = 0;
  for (let i = from; i < to; i++) sum += powers[i];
  return 10 * Math.log10((sum + NOTHING) / (Math.max(to - from, 1) * loud));
}

function pauseLevel(powers: Float32Array, loud: number): number {
  const least = loud * 10 ** (AUDIBLE_DB / 10);
  const first = powers.findIndex((power) => power >= least);
  const last = powers.findLastIndex((power) => power >= least);
  const heard = powers.slice(first, last + 1).sort();
  const db = 10 * Math.log10((heard[Math.floor(PAUSE_SHARE * heard.length)] + NOTHING) / loud);
  return Math.min(0, Math.max(DEEPEST_DB, db));
}

/** A spectrum with its work space, and the bins that are looked at. */
interface Spectrum {
  readonly window: Float64Array;
  readonly fft: RealFft;
  readonly frame: Float64Array;
  readonly power: Float64Array;
  readonly edges: readonly number[];
  readonly lowest: number;
  readonly binHz: number;
}

function spectrumOf(sampleRate: number): Spectrum {
  const binHz = sampleRate / FFT_SAMPLES;
  return {
    window: hannWindow(FFT_SAMPLES),
    fft: realFft(FFT_SAMPLES),
    frame: new Float64Array(FFT_SAMPLES),
    power: new Float64Array(FFT_SAMPLES / 2 + 1),
    edges: BAND_EDGES_HZ.map((hz) => Math.round(hz / binHz)),
    lowest: Math.round(LOWEST_BASS_HZ / binHz),
    binHz,
  };
}

/** How tonal the spectrum around a sample is (0..1), and its share below a pitch. */
function measured(
  { window, fft, frame, power, edges, lowest, binHz }: Spectrum,
  samples: Float32Array,
  centre: number,
  pitchHz: number,
): { tonality: number; below: number } {
  writeWindowed(samples, centre - FFT_SAMPLES / 2, window, frame);
  fft.powerSpectrum(frame, power);
  let crest = 0;
  for (let b = 0; b + 1 < edges.length; b++) crest += crestDb(power, edges[b], edges[b + 1]);
  crest /= edges.length - 1;
  const limit = Number.isFinite(pitchHz) ? (BELOW_SHARE * pitchHz) / binHz : lowest;
  const tonality = (crest - NOISE_CREST_DB) / (TONE_CREST_DB - NOISE_CREST_DB);
  return {
    tonality: Math.min(1, Math.max(0, tonality)),
    below: shareBelow(limit, power, lowest, edges[edges.length - 1]),
  };
}

/** Mean over geometric mean of the power of bins `from` to `to` − 1, decibels. */
function crestDb(power: Float64Array, from: number, to: number): number {
  let sum = 0;
  let logs = 0;
  for (let k = from; k < to; k++) {
    sum += power[k] + NOTHING;
    logs += Math.log(power[k] + NOTHING);
  }
  return 10 * Math.log10(sum / (to - from)) - (10 / Math.LN10) * (logs / (to - from));
}

/** Share of the power of bins `lowest` to `highest` − 1 that lies below bin `limit`, which need not be whole. */
function shareBelow(limit: number, power: Float64Array, lowest: number, highest: number): number {
  let low = 0;
  let all = 0;
  for (let k = lowest; k < highest; k++) {
    all += power[k];
    if (k < limit) low += power[k];
  }
  return low / (all + NOTHING);
}
