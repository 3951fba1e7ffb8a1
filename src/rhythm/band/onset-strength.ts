import type { FrameGrid } from '../../dsp/frame-grid.js';
import { pairSpectra } from '../../dsp/wasm/pair-spectra.js';
import { hannWindow } from '../../dsp/window.js';
import { writeWindowed } from '../../dsp/windowed.js';
import { type LogBand, logBands, pitchClassOf } from './filters.js';

/** How much begins at every moment, by register, and which pitch classes sound. */
export interface OnsetStrength {
  readonly grid: FrameGrid;
  /** Rise of the bands under 200 Hz, as long as the grid, 0 or more: bass and bass drum. */
  readonly low: Float32Array;
  /** Rise of the bands from 200 to 2500 Hz: chords and voices. */
  readonly middle: Float32Array;
  /** Rise of the bands from 2500 Hz up: consonants, cymbals, snares. */
  readonly high: Float32Array;
  /** Twelve a frame, from A up: summed log magnitude of the bands of each pitch class. */
  readonly chroma: Float32Array;
}

/** Seconds between frames: a seventh of the 70 ms that a beat may be off. */
const HOP_SECONDS = 0.01;
/** Seconds of a frame, made a power of two samples: 1024 at 16 kHz, four hops to every half of it. */
const FRAME_SECONDS = 0.064;
/** Magnitudes count by log(1 + 100 · magnitude / RMS): 10 and 1000 measured the same within the noise. */
const COMPRESSION = 100;
/** Frames back that a band is compared with: half an overlapping frame (Böck & Widmer 2013, section 3). */
const LAG_FRAMES = 3;
/** Hertz where the registers part. */
const LOW_UP_TO_HZ = 200;
const HIGH_FROM_HZ = 2500;
/**
 * Frames from an onset back to its peak: the peak comes when the attack enters the later of the two frames well, so
 * before the middle between the two. Found with the rendered bands of known beats (beats are heard 4 ms late there, the median of the songs).
 */
const PEAK_EARLY_FRAMES = 0.5;

/**
 * Onset strength by the rise of a spectrum with logarithmic bands and logarithmic magnitudes.
 *
 * Method: Hann frames, two to a complex transform; triangular bands, twelve an octave; the log of each band less the
 * largest of itself and its two neighbours three frames ago, where positive ("SuperFlux": a pitch that wavers by
 * less than a band is no onset), summed over each register. Magnitudes are taken relative to the RMS of the whole
 * recording, so its level does not matter.
 *
 * Source: S. Böck & G. Widmer, "Maximum filter vibrato suppression for onset detection", DAFx 2013.
 *
 * @param sampleRate hertz, at least 8000
 * @returns one frame every 10 ms from the first sample on; of silence all 0
 */
export function onsetStrength(samples: Float32Array, sampleRate: number): OnsetStrength {
  const hop = Math.round(HOP_SECONDS * sampleRate);
  const size = 2 ** Math.round(Math.log2(FRAME_SECONDS * sampleRate));
  const frameCount = Math.ceil(samples.length / hop);
  const bands = logBands(size, sampleRate);
  const low = new Float32Array(frameCount);
  const middle = new Float32Array(frameCount);
  const high = new Float32Array(frameCount);
  const chroma = new Float32Array(12 * frameCount);
  const levels: LogLevels = {
    bands,
    pitchClasses: bands.map((band) => pitchClassOf(band)),
    lowEnd: bands.findIndex((band) => band.hz > LOW_UP_TO_HZ),
    middleEnd: bands.findIndex((band) => band.hz > HIGH_FROM_HZ),
    scale: magnitudeScale(samples, size),
    recent: Array.from({ length: LAG_FRAMES + 1 }, () => new Float64Array(bands.length)),
  };
  const rises = { low, middle, high, chroma };
  const pair = pairSpectra(size, 'magnitude');
  const window = hannWindow(size);
  for (let i = 0; i < frameCount; i += 2) {
    writeWindowed(samples, i * hop - size / 2, window, pair.first);
    writeWindowed(samples, (i + 1) * hop - size / 2, window, pair.second);
    pair.transform();
    take(pair.ofFirst, i, levels, rises);
    if (i + 1 < frameCount) take(pair.ofSecond, i + 1, levels, rises);
  }
  const hopSeconds = hop / sampleRate;
  const firstCentreSeconds = (PEAK_EARLY_FRAMES - LAG_FRAMES / 2) * hopSeconds;
  return { grid: { hopSeconds, firstCentreSeconds, frameCount }, low, middle, high, chroma };
}

/** What frames are measured by, and the log bands of the last few of them. */
interface LogLevels {
  readonly bands: readonly LogBand[];
  readonly pitchClasses: readonly (number | null)[];
  /** Numbers of the first bands above the low and the middle register. */
  readonly lowEnd: number;
  readonly middleEnd: number;
  readonly scale: number;
  /** In turns. */
  readonly recent: readonly Float64Array[];
}

/** Writes what frame `index` is, from its magnitudes. */
function take(
  magnitudes: Float32Array,
  index: number,
  { bands, pitchClasses, lowEnd, middleEnd, scale, recent }: LogLevels,
  { low, middle, high, chroma }: Omit<OnsetStrength, 'grid'>,
): void {
  const logs = recent[index % recent.length]!;
  for (let b = 0; b < bands.length; b++) {
    const { first, weights } = bands[b]!;
    let sum = 0;
    for (let k = 0; k < weights.length; k++) sum += weights[k]! * magnitudes[first + k]!;
    const log = Math.log1p(scale * sum);
    logs[b] = log;
    const pitchClass = pitchClasses[b]!;
    if (pitchClass !== null) chroma[12 * index + pitchClass]! += log;
  }
  if (index < LAG_FRAMES) return;
  const before = recent[(index - LAG_FRAMES) % recent.length]!;
  low[index] = rise(logs, before, 0, lowEnd);
  middle[index] = rise(logs, before, lowEnd, middleEnd);
  high[index] = rise(logs, before, middleEnd, bands.length);
}

/** Factor from a magnitude of the transform to COMPRESSION times its share of the RMS; 0 for silence. */
function magnitudeScale(samples: Float32Array, size: number): number {
  let energy = 0;
  for (let i = 0; i < samples.length; i++) energy += samples[i]! * samples[i]!;
  // The window sums to size / 2, and half of a tone is at negative frequencies.
  return energy > 0 ? COMPRESSION / ((Math.sqrt(energy / samples.length) * size) / 4) : 0;
}

/** Sum over bands from..to − 1 of what is above the largest of three neighbours before. */
function rise(now: Float64Array, before: Float64Array, from: number, to: number): number {
  const last = now.length - 1;
  let sum = 0;
  for (let b = from; b < to; b++) {
    let least = before[b]!;
    if (b > 0 && before[b - 1]! > least) least = before[b - 1]!;
    if (b < last && before[b + 1]! > least) least = before[b + 1]!;
    if (now[b]! > least) sum += now[b]! - least;
  }
  return sum;
}
