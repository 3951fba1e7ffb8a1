/**
 * Pitch track of the melody of a mixture (a voice with a band), by the contours of its harmonic salience:
 * Salamon & Gómez, "Melody extraction from polyphonic music signals using pitch contour characteristics",
 * IEEE TASLP 20(6), 2012, as essentia.js has it. The program does not use it: it is what scores and times are held
 * against.
 */
import type { Recording } from '../../src/audio/types.js';
import type { PitchTrack } from '../../src/pitch/types.js';
import { hzToMidi, midiToHz } from '../../src/units.js';
import { loadEssentia } from './essentia.js';

export interface ContourOptions {
  /** Lowest pitch looked for, MIDI number. */
  readonly lowestMidi: number;
  /** Highest pitch looked for, MIDI number. */
  readonly highestMidi: number;
}

/** Seconds between frames. */
const HOP_SECONDS = 0.01;
/** Seconds of a frame, about: 1024 samples at 16 kHz. A longer one (128 ms) was no better and slower. */
const FRAME_SECONDS = 0.064;
/** Level that the loud frames (90th percentile) are brought to: the confidence is proportional to the level. */
const REFERENCE_DB = -20;
/** Lowest level told, decibels relative to full scale. */
const FLOOR_DB = -120;
/** Seconds over which the level of a frame is measured. */
const LEVEL_SECONDS = 0.032;

/**
 * Probability of voice = σ(slope·|confidence| + offset), from 26 real clips of karaoke (voice and band equally
 * loud), where the share of truly voiced frames rose so with the confidence, apart for contours that stood out
 * and for guesses; without a contour the share was a constant.
 */
const STOOD_OUT = { slope: 30, offset: -1.6 };
const GUESSED = { slope: 55, offset: -3.7 };
const VOICED_WITHOUT_CONTOUR = 0.25;

/** Half of the longest break of the voice that a note outlasts, in frames: breaks of up to 100 ms are bridged. */
const BRIDGED_FRAMES = 5;

/** Rise of the level that makes a note start as likely as not, and the rise that changes the odds e-fold, dB. */
const ONSET_RISE_DB = 6;
const ONSET_SPREAD_DB = 1.5;
/** Frames over which the level rises at an onset (30 ms), and in which only the steepest rise is an onset. */
const ONSET_FRAMES = 3;

/**
 * Tracks the melody of a mixture. The recording is brought to one level, the contours are found, their pitch is
 * held where there is none; voicing comes from their confidence, onsets from rises of the level (of the whole
 * mixture: drums make them too).
 *
 * @returns frames of 10 ms, frame 0 centred on the first sample; without any contour the pitch is the middle of
 *   the range and nothing is voiced
 */
export async function trackContours(recording: Recording, options: ContourOptions): Promise<PitchTrack> {
  const { samples, sampleRate } = recording;
  const hopSamples = Math.round(HOP_SECONDS * sampleRate);
  const frameCount = Math.floor(samples.length / hopSamples) + 1;
  const levelDb = levelsOf(samples, sampleRate, hopSamples, frameCount);
  const essentia = await loadEssentia();
  const melody = essentia.predominantMelody(atReferenceLevel(samples, levelDb), sampleRate, {
    hopSamples,
    frameSamples: 2 ** Math.round(Math.log2(FRAME_SECONDS * sampleRate)),
    lowestHz: midiToHz(options.lowestMidi),
    highestHz: midiToHz(options.highestMidi),
  });
  const hz = melody.hz.subarray(0, frameCount);
  const voiced = Float32Array.from({ length: frameCount }, (_, i) =>
    (hz[i] ?? 0) > 0 ? voicedFrom(melody.confidence[i]!) : VOICED_WITHOUT_CONTOUR,
  );
  return {
    grid: { hopSeconds: melody.hopSeconds, firstCentreSeconds: melody.firstCentreSeconds, frameCount },
    pitch: heldPitch(hz, frameCount, (options.lowestMidi + options.highestMidi) / 2),
    voiced,
    sounding: closed(voiced, BRIDGED_FRAMES),
    onset: onsetsOf(levelDb),
    levelDb,
  };
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

function voicedFrom(confidence: number): number {
  const { slope, offset } = confidence > 0 ? STOOD_OUT : GUESSED;
  return logistic(slope * Math.abs(confidence) + offset);
}

/** Grey closing: breaks of up to 2·radius frames are raised to the lower of their two sides, edges stay. */
function closed(values: Float32Array, radius: number): Float32Array {
  const over = (from: Float32Array, pick: (...v: number[]) => number) =>
    from.map((_, i) => pick(...from.subarray(Math.max(i - radius, 0), i + radius + 1)));
  return over(over(values, Math.max), Math.min);
}

/** Fractional MIDI numbers; a frame without pitch takes that of the last frame with one, or of the first. */
function heldPitch(hz: Float32Array, frameCount: number, otherwise: number): Float32Array {
  const first = hz.find((f) => f > 0);
  let held = first === undefined ? otherwise : hzToMidi(first);
  return Float32Array.from({ length: frameCount }, (_, i) => {
    const f = hz[i] ?? 0;
    if (f > 0) held = hzToMidi(f);
    return held;
  });
}

/** Root mean square of the 32 ms around the centre of each frame, in decibels; beyond the ends is silence. */
function levelsOf(
  samples: Float32Array,
  sampleRate: number,
  hopSamples: number,
  frameCount: number,
): Float32Array {
  const half = Math.round((LEVEL_SECONDS * sampleRate) / 2);
  const energy = new Float64Array(samples.length + 1);
  for (let i = 0; i < samples.length; i++) energy[i + 1] = energy[i]! + samples[i]! ** 2;
  return Float32Array.from({ length: frameCount }, (_, i) => {
    const from = Math.max(i * hopSamples - half, 0);
    const to = Math.min(i * hopSamples + half, samples.length);
    const power = Math.max((energy[to]! - energy[from]!) / (2 * half), 0);
    return Math.max(10 * Math.log10(power), FLOOR_DB);
  });
}

function atReferenceLevel(samples: Float32Array, levelDb: Float32Array): Float32Array {
  const loud = levelDb.slice().sort()[Math.floor(0.9 * (levelDb.length - 1))]!;
  if (loud <= FLOOR_DB) return new Float32Array(samples.length);
  const gain = 10 ** ((REFERENCE_DB - loud) / 20);
  return samples.map((s) => s * gain);
}

/** The steepest rises of the level as probabilities of a note's start, 0 elsewhere. */
function onsetsOf(levelDb: Float32Array): Float32Array {
  // The level of the 30 ms to come over that of the 30 ms gone by.
  const rise = levelDb.map((_, i) => {
    const later = levelDb[Math.min(i + ONSET_FRAMES, levelDb.length - 1)]!;
    const earlier = levelDb[Math.max(i - ONSET_FRAMES, 0)]!;
    return later - earlier;
  });
  return rise.map((dB, i) => {
    const around = rise.subarray(Math.max(i - ONSET_FRAMES, 0), i + ONSET_FRAMES + 1);
    return dB > 0 && dB >= Math.max(...around) ? logistic((dB - ONSET_RISE_DB) / ONSET_SPREAD_DB) : 0;
  });
}
