/** Signals whose pitch is known at every moment, in closed form. */
import type { Recording } from '../../src/audio/types.js';

export const RATE = 16_000;

/** Phase in turns and frequency in hertz at a time in seconds: the phase is the integral of the frequency. */
export interface Course {
  readonly turns: (seconds: number) => number;
  readonly hz: (seconds: number) => number;
}

export function steady(hz: number): Course {
  return { turns: (t) => hz * t, hz: () => hz };
}

/** Rises (or falls) by the same number of octaves every second. */
export function chirp(fromHz: number, octavesPerSecond: number): Course {
  const rate = octavesPerSecond * Math.LN2;
  return {
    turns: (t) => (fromHz * (Math.exp(rate * t) - 1)) / rate,
    hz: (t) => fromHz * Math.exp(rate * t),
  };
}

/** Frequency swinging `depth` (a share of the frequency) to either side, `rateHz` times a second. */
export function vibrato(hz: number, depth: number, rateHz: number): Course {
  const w = 2 * Math.PI * rateHz;
  return {
    turns: (t) => hz * (t + (depth / w) * (1 - Math.cos(w * t))),
    hz: (t) => hz * (1 + depth * Math.sin(w * t)),
  };
}

/** Every second cycle longer than the other by `share` of the mean cycle, as in a creaking voice. */
export function longAndShort({ turns, hz }: Course, share: number): Course {
  // A whole turn of two cycles moves the end of the first by share / 2 of a cycle, and that of the second not at all.
  const early = (t: number) => (share / 4) * (1 - Math.cos(Math.PI * turns(t)));
  return { turns: (t) => turns(t) - early(t), hz };
}

/** Every second cycle of a signal multiplied by `gain`. */
export function loudAndSoft({ turns }: Course, samples: Float32Array, gain: number): Float32Array {
  return samples.map((v, n) => (Math.floor(turns(n / RATE)) % 2 === 1 ? gain * v : v));
}

/** Amplitudes of the partials from the first on: half as much each. */
export const VOICE_LIKE = [1, 0.5, 0.25, 0.125, 0.0625];

/** Sum of partials of a course; partials over 0.45 of the sample rate are left out. */
export function tone(
  course: Course,
  seconds: number,
  { partials = VOICE_LIKE, gain = 0.3 }: { partials?: readonly number[]; gain?: number } = {},
): Float32Array {
  return Float32Array.from({ length: Math.round(seconds * RATE) }, (_, n) => {
    const t = n / RATE;
    const turns = course.turns(t);
    const hz = course.hz(t);
    let sum = 0;
    partials.forEach((amplitude, k) => {
      if ((k + 1) * hz < 0.45 * RATE) sum += amplitude * Math.sin(2 * Math.PI * (k + 1) * turns);
    });
    return gain * sum;
  });
}

/** A sung note: seconds and pitch in MIDI numbers. */
export interface Sung {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** Rise and fall of a note. */
const EDGE_SECONDS = 0.015;

/** Vowel-like tones at their times over faint noise at −70 dB, and silence between. */
export function sing(notes: readonly Sung[], seconds: number): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  let state = 1;
  for (let n = 0; n < out.length; n++) {
    // Lehmer's generator (Park & Miller 1988): the same noise on every run.
    state = (state * 48_271) % 2_147_483_647;
    out[n] = 0.0003 * (state / 1_073_741_823 - 1);
  }
  for (const { start, end, midi } of notes) {
    const first = Math.round(start * RATE);
    const note = tone(steady(440 * 2 ** ((midi - 69) / 12)), end - start, { gain: 0.2 });
    note.forEach((value, n) => {
      const edge = Math.min(n, note.length - n) / (EDGE_SECONDS * RATE);
      out[first + n]! += value * Math.min(1, edge);
    });
  }
  return out;
}

export function recordingOf(samples: Float32Array): Recording {
  const seconds = samples.length / RATE;
  return {
    samples,
    sampleRate: RATE,
    source: { container: 'wav', sampleRate: RATE, channels: 1, seconds, warnings: [] },
  };
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}

/** Cents from `fromHz` up to a MIDI number: 1200·log2 of the ratio of frequencies. */
export function centsAbove(midi: number, fromHz: number): number {
  return 100 * (midi - 69) - 1200 * Math.log2(fromHz / 440);
}
