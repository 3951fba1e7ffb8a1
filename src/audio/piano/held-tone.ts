/** A soft held tone to hum along with. */
import { midiToHz } from '../../units.js';

/** Amplitudes of its harmonics, a stopped organ pipe's mostly odd ones (our choice by ear). */
const HARMONICS = [1, 0.12, 0.3, 0.05, 0.1, 0.02, 0.03] as const;
const AMPLITUDE = 0.07;
const RISE_SECONDS = 0.3;
const FALL_SECONDS = 0.5;

export interface HeldTone {
  readonly midi: number;
  /** Seconds. */
  readonly start: number;
  readonly end: number;
}

/** Adds a tone that swells, holds, and is gone at its end. `sampleRate` in hertz. */
export function addHeldTone(out: Float32Array, sampleRate: number, { midi, start, end }: HeldTone): void {
  const from = Math.round(start * sampleRate);
  const length = Math.round((end - start) * sampleRate);
  const step = (2 * Math.PI * midiToHz(midi)) / sampleRate;
  for (let i = 0; i < length && from + i < out.length; i++) {
    const level =
      AMPLITUDE * swell(i / (RISE_SECONDS * sampleRate)) * swell((length - i) / (FALL_SECONDS * sampleRate));
    let wave = 0;
    for (let n = 0; n < HARMONICS.length; n++) wave += HARMONICS[n]! * Math.sin(step * (n + 1) * i);
    out[from + i]! += level * wave;
  }
}

/** 0 to 1 along half a cosine. */
export function swell(way: number): number {
  return 0.5 - 0.5 * Math.cos(Math.PI * Math.min(Math.max(way, 0), 1));
}
