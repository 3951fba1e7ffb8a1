import type { Recording } from '../../audio/types.js';
import { realFft } from '../../dsp/fft.js';
import { hannWindow } from '../../dsp/window.js';
import { writeWindowed } from '../../dsp/windowed.js';
import { hzToMidi } from '../../units.js';
import type { BandHarmony } from '../types.js';

/** Seconds of a frame, made a power of two samples: long enough to part semitones down to 50 Hz. */
const FRAME_SECONDS = 0.5;
/** Seconds between frames: less than a beat. */
const HOP_SECONDS = 0.25;
/** Hertz between which partials count as pitches: over it they are mostly overtones. */
const PITCH_FROM_HZ = 100;
const PITCH_TO_HZ = 1500;
/** Hertz between which the strongest partial of a frame is its bass: the lowest string of a bass guitar to the D under middle C. */
const BASS_FROM_HZ = 40;
const BASS_TO_HZ = 150;
/** Semitones from the nearest key beyond which a partial is of no key. */
const NEAR_KEY = 0.35;

/**
 * Which pitch classes sound in a recording and which its bass plays: the peaks of the spectrum, each at its
 * interpolated frequency, go to the nearest key by their magnitude. Every frame counts alike, however loud.
 *
 * Source: E. Gómez, "Tonal description of polyphonic audio for music content processing", INFORMS Journal on
 * Computing 18 (2006), 294–304, sections 2 and 3, without its harmonics.
 *
 * @param tuningCents of the recording, above A4 = 440 Hz
 * @returns shares that add up to 1; all 0 for silence
 */
export function bandHarmony({ samples, sampleRate }: Recording, tuningCents: number): BandHarmony {
  const size = 2 ** Math.round(Math.log2(FRAME_SECONDS * sampleRate));
  const hop = Math.round(HOP_SECONDS * sampleRate);
  const fft = realFft(size);
  const window = hannWindow(size);
  const [first, second] = [new Float64Array(size), new Float64Array(size)];
  const [power, powerOfSecond] = [new Float64Array(size / 2 + 1), new Float64Array(size / 2 + 1)];
  const chroma = new Float64Array(12);
  const bass = new Float64Array(12);
  for (let start = 0; start < samples.length; start += 2 * hop) {
    writeWindowed(samples, start, window, first);
    writeWindowed(samples, start + hop, window, second);
    fft.powerSpectra(first, second, power, powerOfSecond);
    for (const spectrum of [power, powerOfSecond]) {
      addFrame(peaksOf(spectrum, sampleRate / size, tuningCents), chroma, bass);
    }
  }
  return { chroma: shares(chroma), bass: shares(bass) };
}

interface Peak {
  readonly hz: number;
  readonly magnitude: number;
  readonly pitchClass: number;
}

/** Peaks near a key; their frequencies by a parabola through the logarithms of three bins. */
function peaksOf(power: Float64Array, binHz: number, tuningCents: number): Peak[] {
  const peaks: Peak[] = [];
  const last = Math.min(power.length - 2, Math.floor(PITCH_TO_HZ / binHz));
  for (let k = Math.max(1, Math.ceil(BASS_FROM_HZ / binHz)); k <= last; k++) {
    const at = power[k]!;
    const below = power[k - 1]!;
    const above = power[k + 1]!;
    if (at <= below || at < above || below === 0 || above === 0) continue;
    const a = Math.log(below);
    const b = Math.log(at);
    const c = Math.log(above);
    const hz = (k + (a - c) / (2 * (a - 2 * b + c))) * binHz;
    const midi = hzToMidi(hz) - tuningCents / 100;
    const key = Math.round(midi);
    if (Math.abs(midi - key) > NEAR_KEY) continue;
    peaks.push({ hz, magnitude: Math.sqrt(at), pitchClass: ((key % 12) + 12) % 12 });
  }
  return peaks;
}

function addFrame(peaks: readonly Peak[], chroma: Float64Array, bass: Float64Array): void {
  const pitches = peaks.filter(({ hz }) => hz >= PITCH_FROM_HZ);
  const sum = pitches.reduce((total, { magnitude }) => total + magnitude, 0);
  for (const { pitchClass, magnitude } of pitches) chroma[pitchClass]! += magnitude / sum;
  const low = peaks.filter(({ hz }) => hz <= BASS_TO_HZ);
  if (low.length === 0) return;
  bass[low.reduce((most, peak) => (peak.magnitude > most.magnitude ? peak : most)).pitchClass]! += 1;
}

function shares(values: Float64Array): number[] {
  const sum = values.reduce((a, b) => a + b, 0);
  return Array.from(values, (value) => (sum > 0 ? value / sum : 0));
}
