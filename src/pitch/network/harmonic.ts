import { type PackedSamples, unpack } from '../../dsp/packed.js';
import { pairSpectra } from '../../dsp/wasm/pair-spectra.js';
import { hannWindow } from '../../dsp/window.js';
import { writeWindowed } from '../../dsp/windowed.js';
import { NETWORK_RATE } from './level.js';
import { levelUnits } from './units.js';

/** Samples between frames: 20 ms. */
export const HOP_SAMPLES = 320;
/** Bins of pitch: bin k stands for 55·2^(k/60) Hz, five octaves in steps of 20 cents. */
export const PITCH_BINS = 300;
/** Bins of the spectrum on a scale of pitch: bin j stands for 27.5·2^(j/60) Hz, up to 8 kHz. */
export const LOG_BINS = 491;
/** The harmonics that are laid over one another. */
const HARMONICS = [0.5, 1, 2, 3, 4, 5, 6, 8];
/** Channels of the stack, one a harmonic. */
export const STACK_CHANNELS = HARMONICS.length;

const BINS_PER_OCTAVE = 60;
const LOWEST_HZ = 27.5;
/** Samples of one spectrum: 128 ms tell neighbouring semitones apart down to about 130 Hz. */
const WINDOW_SAMPLES = 2048;
/** … padded with as many zeros, for bins half as wide. */
const FFT_SAMPLES = 4096;
const FFT_BINS = FFT_SAMPLES / 2 + 1;
/** Added to every magnitude, so that silence has a level. */
const LEAST_MAGNITUDE = 1e-6;
/** How much of the side's magnitude is taken from the middle's, and the share of the middle that is always left. */
const SIDE_SHARE = 1;
const LEAST_SHARE = 0.1;

/** Bins of the log spectrum by which harmonic h lies above the bin of half the pitch. */
const OFFSETS = HARMONICS.map((h) => Math.round(BINS_PER_OCTAVE * Math.log2(h / HARMONICS[0])));

/** The signal that is looked at. */
export interface HarmonicSource {
  /** Mono: the middle of a stereo recording. At NETWORK_RATE. */
  readonly samples: Float32Array;
  /**
   * Half the difference of left and right, as long as `samples`, or null. What is louder here than in the middle
   * does not come from the middle, where the leading voice is.
   */
  readonly side: PackedSamples | null;
  /** Factor on both (level.ts). */
  readonly gain: number;
}

/** Frames of a recording of `sampleCount` samples; frame t is centred on sample t·HOP_SAMPLES. */
export function harmonicFrames(sampleCount: number): number {
  return Math.floor(sampleCount / HOP_SAMPLES) + 1;
}

/** Computes spectra on a scale of pitch, with the work space for it: make one and reuse it. */
export interface LogSpectra {
  /**
   * Writes the levels of `count` frames from frame `first` on: bin j of the i-th at `i * LOG_BINS + j`, in the
   * networks' units (units.ts). Beyond its ends the signal is silence.
   */
  write(source: HarmonicSource, first: number, count: number, out: Float32Array): void;
}

/**
 * Spectra with bins of 20 cents: periodic Hann window of 128 ms, padded to twice its length, magnitudes (1 for a
 * sine of full scale), gathered by triangles whose feet are the neighbouring bins' centres but never nearer than
 * one bin of the transform, each with weights that sum to 1.
 *
 * Where there is a side, the magnitude of every bin of the transform is lowered by the side's, to a tenth at
 * most: after "azimuth discrimination" (Barry, Lawlor & Coyle 2004, DAFx), for the middle only.
 */
export function logSpectra(): LogSpectra {
  const window = hannWindow(WINDOW_SAMPLES);
  const scale = 2 / window.reduce((sum, w) => sum + w, 0);
  const bins = logBins();
  const pair = pairSpectra(FFT_SAMPLES, 'magnitude');
  const weights = new Float64Array(WINDOW_SAMPLES);
  // The side under the frames wanted, from the start of the first one's window on.
  let near = new Float32Array(0);

  return {
    write({ samples, side, gain }, first, count, out) {
      for (let j = 0; j < WINDOW_SAMPLES; j++) weights[j] = gain * scale * window[j];
      const { ofFirst, ofSecond } = pair;
      // Without a side two frames share a transform.
      const step = side === null ? 2 : 1;
      const start = first * HOP_SAMPLES - WINDOW_SAMPLES / 2;
      if (side !== null) {
        const length = (count - 1) * HOP_SAMPLES + WINDOW_SAMPLES;
        if (near.length < length) near = new Float32Array(length);
        unpack(side, start, near.subarray(0, length));
      }
      for (let i = 0; i < count; i += step) {
        writeWindowed(samples, start + i * HOP_SAMPLES, weights, pair.first);
        if (side === null) writeWindowed(samples, start + (i + 1) * HOP_SAMPLES, weights, pair.second);
        else writeWindowed(near, i * HOP_SAMPLES, weights, pair.second);
        pair.transform();
        if (side !== null) takeAway(ofSecond, ofFirst);
        gather(bins, ofFirst, out, i * LOG_BINS);
        if (side === null && i + 1 < count) gather(bins, ofSecond, out, (i + 1) * LOG_BINS);
      }
    },
  };
}

/** Lowers magnitudes by those of the side. */
function takeAway(side: Float32Array, magnitudes: Float32Array): void {
  for (let k = 0; k < FFT_BINS; k++) {
    const whole = magnitudes[k];
    magnitudes[k] = Math.max(whole - SIDE_SHARE * side[k], LEAST_SHARE * whole);
  }
}

/**
 * Writes the stack of `count` frames: channel h of pitch bin k in frame t at `(h * count + t) * PITCH_BINS + k`
 * is the level at harmonic h of that pitch, 0 above 8 kHz.
 *
 * @param spectra log spectra of the frames, in their order
 */
export function writeStack(spectra: Float32Array, count: number, out: Float32Array): void {
  for (let h = 0; h < STACK_CHANNELS; h++) {
    const offset = OFFSETS[h];
    const there = Math.min(PITCH_BINS, LOG_BINS - offset);
    for (let t = 0; t < count; t++) {
      const to = (h * count + t) * PITCH_BINS;
      const from = t * LOG_BINS + offset;
      out.set(spectra.subarray(from, from + there), to);
      out.fill(0, to + there, to + PITCH_BINS);
    }
  }
}

/** The triangles, one after the other: bin j takes `weights[start[j]] …` of the bins from `firstBin[j]` on. */
interface LogBins {
  readonly firstBin: Int32Array;
  readonly start: Int32Array;
  readonly weights: Float64Array;
}

function gather(
  { firstBin, start, weights }: LogBins,
  magnitude: Float32Array,
  out: Float32Array,
  at: number,
): void {
  for (let j = 0; j < LOG_BINS; j++) {
    const to = start[j + 1];
    let sum = LEAST_MAGNITUDE;
    for (let i = start[j], k = firstBin[j]; i < to; i++, k++) sum += weights[i] * magnitude[k];
    out[at + j] = levelUnits(20 * Math.log10(sum));
  }
}

function logBins(): LogBins {
  const binHz = NETWORK_RATE / FFT_SAMPLES;
  const centre = (j: number) => (LOWEST_HZ * 2 ** (j / BINS_PER_OCTAVE)) / binHz;
  const firstBin = new Int32Array(LOG_BINS);
  const start = new Int32Array(LOG_BINS + 1);
  const weights: number[] = [];
  for (let j = 0; j < LOG_BINS; j++) {
    const c = centre(j);
    const left = Math.max(1, c - centre(j - 1));
    const right = Math.max(1, centre(j + 1) - c);
    const from = Math.max(0, Math.floor(c - left) + 1);
    const to = Math.min(FFT_BINS - 1, Math.ceil(c + right) - 1);
    const triangle: number[] = [];
    for (let k = from; k <= to; k++) triangle.push(k <= c ? 1 - (c - k) / left : 1 - (k - c) / right);
    const sum = triangle.reduce((a, b) => a + b, 0);
    for (const w of triangle) weights.push(w / sum);
    firstBin[j] = from;
    start[j + 1] = weights.length;
  }
  return { firstBin, start, weights: Float64Array.from(weights) };
}
