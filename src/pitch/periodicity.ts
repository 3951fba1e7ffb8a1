import { realFft } from '../dsp/fft.js';
import { lowPass } from '../dsp/low-pass.js';
import { hzToMidi } from '../units.js';
import { MAX_CANDIDATES, merit, type PitchCandidates } from './candidates.js';

/** Samples between frames: 10 ms at 16 kHz. */
export const HOP_SAMPLES = 160;
/**
 * Samples compared with their delayed selves: 40 ms at 16 kHz, or two of the longest periods looked for where those
 * are longer. Longer frames blur a voice that glides: on karaoke voices of singers the networks learned from, 40 ms
 * kept .99 of the sung frames within half a semitone, 36 and 44 ms .99, 48 ms .98, 64 ms .97 and 32 ms .98.
 */
const FRAME_SAMPLES = 640;
/** Peaks of periodicity lower than this are not worth a place in the search. */
const WEAKEST = 0.2;
/** A short period is measured over several periods, up to this many samples, where the peak is still there. */
const REFINE_UP_TO_SAMPLES = 160;
/** A voice shows its period below this; above, sharp peaks fall between the lags and noise hides them. */
const CUTOFF_HZ = 3000;
/** … but twice the highest pitch must stay. */
const CUTOFF_OVER_HIGHEST = 2;

/** For the low-passed signal, one for all: what is let go of piles up until the garbage collector sweeps everything. */
let room = new Float32Array(0);

export interface PeriodicityRange {
  /** Lowest pitch looked for, hertz. */
  readonly lowestHz: number;
  /** Highest pitch looked for, hertz. */
  readonly highestHz: number;
}

/**
 * The periods at which each frame nearly repeats.
 *
 * For every lag τ the squared difference between a frame and itself delayed (de Cheveigné & Kawahara 2002,
 * "YIN", section II.B) is summed over the pairs that lie inside the frame, and divided by the energy of those
 * pairs (McLeod & Wyvill 2005, "A smarter way to find pitch", section 4): strength = 1 − d(τ)/m(τ). Summing
 * inside the frame keeps the pairs of every lag centred on the middle of the frame, so the track has no delay
 * that changes with the pitch. The differences come from the autocorrelation, by Fourier transform.
 * Local maxima of the strength, refined by a parabola, are the candidates.
 *
 * What lies above 3 kHz is taken out first.
 *
 * Frame i is centred on sample i·HOP_SAMPLES; beyond its ends the recording counts as silence.
 *
 * @param recorded mono signal, −1..1
 * @param sampleRate hertz
 */
export function periodicity(
  recorded: Float32Array,
  sampleRate: number,
  range: PeriodicityRange,
): PitchCandidates {
  const cutoffHz = Math.max(CUTOFF_HZ, CUTOFF_OVER_HIGHEST * range.highestHz);
  if (room.length < recorded.length) room = new Float32Array(recorded.length);
  const samples = lowPass(recorded, sampleRate, cutoffHz, room);
  const frameCount = Math.floor(samples.length / HOP_SAMPLES) + 1;
  const longest = longestLag(sampleRate, range);
  const frameSamples = frameSamplesFor(sampleRate, range);
  // So many that a frame's end does not meet its beginning at the longest lag.
  const fftSamples = 2 ** Math.ceil(Math.log2(frameSamples + longest + 2));
  const fft = realFft(fftSamples);
  const frame = new Float64Array(fftSamples);
  const power = new Float64Array(fftSamples / 2 + 1);
  const correlation = new Float64Array(fftSamples / 2 + 1);
  const strengthAt = new Float64Array(longest + 2);
  const count = new Uint8Array(frameCount);
  const pitch = new Float32Array(frameCount * MAX_CANDIDATES);
  const strength = new Float32Array(frameCount * MAX_CANDIDATES);

  for (let i = 0; i < frameCount; i++) {
    const energy = loadFrame(samples, i * HOP_SAMPLES - frameSamples / 2, frame.subarray(0, frameSamples));
    if (energy <= 0) continue;
    fft.powerSpectrum(frame, power);
    fft.autocorrelation(power, correlation);
    takeStrengths(correlation, frame, frameSamples, energy, strengthAt);
    count[i] = takePeaks(strengthAt, sampleRate, range, i * MAX_CANDIDATES, pitch, strength);
  }
  return {
    grid: { hopSeconds: HOP_SAMPLES / sampleRate, firstCentreSeconds: 0, frameCount },
    count,
    pitch,
    strength,
  };
}

function longestLag(sampleRate: number, { lowestHz }: PeriodicityRange): number {
  return Math.ceil(sampleRate / lowestHz) + 1;
}

/** Length of a frame in samples. */
export function frameSamplesFor(sampleRate: number, range: PeriodicityRange): number {
  return Math.max(FRAME_SAMPLES, 2 * longestLag(sampleRate, range));
}

/** Fills `frame` from sample `start` on, without its mean; returns its energy. */
function loadFrame(samples: Float32Array, start: number, frame: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < frame.length; j++) {
    const k = start + j;
    const x = k >= 0 && k < samples.length ? samples[k] : 0;
    frame[j] = x;
    sum += x;
  }
  const mean = sum / frame.length;
  let energy = 0;
  for (let j = 0; j < frame.length; j++) {
    frame[j] -= mean;
    energy += frame[j] * frame[j];
  }
  return energy > 1e-12 ? energy : 0;
}

/** Strength of every lag of `strengthAt` of a frame that has `energy`. */
function takeStrengths(
  correlation: Float64Array,
  frame: Float64Array,
  frameSamples: number,
  energy: number,
  strengthAt: Float64Array,
): void {
  // m(τ): energy of the pairs inside the frame, worked down from twice the whole energy.
  let pairEnergy = 2 * energy;
  for (let lag = 0; lag < strengthAt.length; lag++) {
    if (lag > 0) pairEnergy -= frame[lag - 1] ** 2 + frame[frameSamples - lag] ** 2;
    strengthAt[lag] = pairEnergy > energy * 1e-6 ? (2 * correlation[lag]) / pairEnergy : 0;
  }
}

/** Writes the candidates of a frame from place `base` on; returns how many there are. */
function takePeaks(
  strengthAt: Float64Array,
  sampleRate: number,
  range: PeriodicityRange,
  base: number,
  pitch: Float32Array,
  strength: Float32Array,
): number {
  const shortest = Math.max(2, Math.floor(sampleRate / range.highestHz) - 1);
  const longest = longestLag(sampleRate, range);
  let kept = 0;
  for (let lag = shortest; lag <= longest; lag++) {
    const s = strengthAt[lag];
    if (s < WEAKEST || s < strengthAt[lag - 1] || s <= strengthAt[lag + 1]) continue;
    const peak = parabola(strengthAt, lag);
    const hz = sampleRate / refine(strengthAt, peak.at, longest);
    if (hz < range.lowestHz || hz > range.highestHz) continue;
    kept = keep(pitch, strength, base, kept, hzToMidi(hz), Math.min(1, peak.height));
  }
  return kept;
}

/** Top of the parabola through three neighbouring values. */
function parabola(values: Float64Array, i: number): { at: number; height: number } {
  const a = values[i - 1];
  const b = values[i];
  const c = values[i + 1];
  const bend = a - 2 * b + c;
  if (bend >= 0) return { at: i, height: b };
  const shift = (0.5 * (a - c)) / bend;
  return { at: i + shift, height: b - 0.25 * (a - c) * shift };
}

/**
 * A short period measured over 2, 3, … periods: the peak at k periods lies k times further out, so its place
 * is known k times better. Stops where the peak fades or wanders.
 */
function refine(strengthAt: Float64Array, period: number, longest: number): number {
  const limit = Math.min(longest, REFINE_UP_TO_SAMPLES);
  let best = period;
  const first = strengthAt[Math.round(period)];
  for (let k = 2; best * k < limit; k++) {
    const near = Math.round(best * k);
    let lag = near;
    for (let j = near - 1; j <= Math.min(near + 1, longest); j++)
      if (strengthAt[j] > strengthAt[lag]) lag = j;
    if (strengthAt[lag] < strengthAt[lag - 1] || strengthAt[lag] < strengthAt[lag + 1]) break;
    if (strengthAt[lag] < 0.9 * first) break;
    best = parabola(strengthAt, lag).at / k;
  }
  return best;
}

/** Keeps the MAX_CANDIDATES of greatest merit of a frame; returns how many are kept. */
function keep(
  pitch: Float32Array,
  strength: Float32Array,
  base: number,
  kept: number,
  midi: number,
  height: number,
): number {
  let at = base + kept;
  if (kept === MAX_CANDIDATES) {
    at = base;
    let least = merit(pitch[at], strength[at]);
    for (let k = base + 1; k < base + MAX_CANDIDATES; k++) {
      const worth = merit(pitch[k], strength[k]);
      if (worth >= least) continue;
      at = k;
      least = worth;
    }
    if (least >= merit(midi, height)) return kept;
  }
  pitch[at] = midi;
  strength[at] = height;
  return Math.min(kept + 1, MAX_CANDIDATES);
}
