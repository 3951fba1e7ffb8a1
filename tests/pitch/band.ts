/** A band for a voice to stand before, computed: chords, a bass, drums. */
import { seededRandom } from '../../fixtures/maker/random.js';
import { RATE } from './signals.js';

/** Roots of the chords, two seconds each, and the notes over a root: a major triad. */
const ROOTS = [48, 53, 55, 48];
const TRIAD = [0, 4, 7];
const CHORD_SECONDS = 2;
/** Amplitudes of the first partials of a string. */
const STRING = [1, 0.6, 0.4, 0.25, 0.15, 0.1];
const BEAT_SECONDS = 0.5;

const hzOf = (midi: number) => 440 * 2 ** ((midi - 69) / 12);

function pluck(out: Float32Array, start: number, seconds: number, midi: number, gain: number): void {
  const first = Math.round(start * RATE);
  const hz = hzOf(midi);
  for (let i = 0; i < seconds * RATE && first + i < out.length; i++) {
    const t = i / RATE;
    const fade = Math.exp(-1.5 * t) * Math.min(1, t / 0.005);
    STRING.forEach((level, k) => {
      out[first + i] += gain * level * fade * Math.sin(2 * Math.PI * hz * (k + 1) * t);
    });
  }
}

/** Each chord anew on every beat, a bass on its root, noise on every beat. */
export function band(seconds: number, parts: readonly ('chords' | 'bass' | 'drums')[]): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  const random = seededRandom(5);
  for (let beat = 0; beat * BEAT_SECONDS < seconds; beat++) {
    const start = beat * BEAT_SECONDS;
    const root = ROOTS[Math.floor(start / CHORD_SECONDS) % ROOTS.length];
    if (parts.includes('chords')) for (const step of TRIAD) pluck(out, start, 0.9, root + step, 0.05);
    if (parts.includes('bass')) pluck(out, start, 0.9, root - 12, 0.08);
    if (!parts.includes('drums')) continue;
    const first = Math.round(start * RATE);
    for (let i = 0; i < 1600 && first + i < out.length; i++) {
      out[first + i] += 0.15 * Math.exp(-i / 400) * random.gauss();
    }
  }
  return out;
}

/** Two signals with the second so far below the first, decibels of mean power; as long as the first. */
export function over(voice: Float32Array, other: Float32Array, voiceOverOtherDb: number): Float32Array {
  const rms = (x: Float32Array) => Math.sqrt(x.reduce((sum, value) => sum + value * value, 0) / x.length);
  const gain = (rms(voice) / rms(other)) * 10 ** (-voiceOverOtherDb / 20);
  return voice.map((value, i) => value + gain * (other[i] ?? 0));
}
