/** The click of a count-in: a small wooden block. */

/** Hertz and nepers a second of its two modes; the first of a bar is struck on a smaller block (our choice by ear). */
const MODES = [
  { hz: 1150, decay: 130, share: 1 },
  { hz: 2890, decay: 240, share: 0.35 },
] as const;
const FIRST_HIGHER = 1.45;
const AMPLITUDE = 0.16;
const FIRST_AMPLITUDE = 0.22;
const RISE_SECONDS = 0.0012;
const SECONDS = 0.09;

/** Adds a click that begins at `start` seconds; `first` of a bar: higher, a little louder. `sampleRate` in hertz. */
export function addClick(out: Float32Array, sampleRate: number, start: number, first: boolean): void {
  const from = Math.round(start * sampleRate);
  const length = Math.min(Math.round(SECONDS * sampleRate), out.length - from);
  const higher = first ? FIRST_HIGHER : 1;
  const amplitude = first ? FIRST_AMPLITUDE : AMPLITUDE;
  for (let i = 0; i < length; i++) {
    const seconds = i / sampleRate;
    const rise = Math.min(1, seconds / RISE_SECONDS);
    for (const { hz, decay, share } of MODES) {
      const wave = Math.sin(2 * Math.PI * hz * higher * seconds);
      out[from + i]! += amplitude * share * rise * Math.exp(-decay * seconds) * wave;
    }
  }
}
