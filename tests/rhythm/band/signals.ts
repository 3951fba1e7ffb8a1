/** Drums and chords, computed, for hearing beats. */
import { seededRandom } from '../../../fixtures/maker/random.js';
import type { Recording } from '../../../src/audio/types.js';

export const RATE = 16_000;

export function recordingOf(samples: Float32Array): Recording {
  return {
    samples,
    sampleRate: RATE,
    source: {
      container: 'wav',
      sampleRate: RATE,
      channels: 1,
      seconds: samples.length / RATE,
      warnings: [],
    },
  };
}

/** Times of beats: the k-th comes `period(k)` seconds after the one before. */
export function beatTimes(seconds: number, first: number, period: (beat: number) => number): number[] {
  const times: number[] = [];
  for (let time = first; time < seconds - 0.3; time += period(times.length)) times.push(time);
  return times;
}

/** Short bursts of noise. */
export function clicks(seconds: number, times: readonly number[]): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  const random = seededRandom(3);
  for (const time of times) burst(out, time, 0.3, 400, () => random.gauss());
  return out;
}

function burst(
  out: Float32Array,
  time: number,
  gain: number,
  decay: number,
  wave: (i: number) => number,
): void {
  const start = Math.round(time * RATE);
  for (let i = 0; i < 6 * decay && start + i < out.length; i++) {
    out[start + i]! += gain * Math.exp(-i / decay) * wave(i);
  }
}

const ROOTS = [48, 53, 55, 48];

/**
 * A bass drum on beats 1 and 3, a snare on 2 and 4, cymbals on beats and `late` of the way to the next, and a new
 * chord every bar.
 */
export function band(seconds: number, times: readonly number[], late = 0.5): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  const random = seededRandom(4);
  let last = 0;
  const noise = () => random.gauss();
  const hiss = () => {
    const value = noise();
    const difference = value - last;
    last = value;
    return difference;
  };
  times.forEach((time, k) => {
    const length = (times[k + 1] ?? time + 0.5) - time;
    if (k % 2 === 0) burst(out, time, 0.5, 800, (i) => Math.sin((2 * Math.PI * 60 * i) / RATE));
    else burst(out, time, 0.15, 800, noise);
    burst(out, time, 0.06, 250, hiss);
    burst(out, time + late * length, 0.06, 250, hiss);
    if (k % 4 !== 0) return;
    const root = ROOTS[(k / 4) % ROOTS.length]!;
    for (const step of [0, 4, 7, 12]) {
      const hz = 440 * 2 ** ((root + step - 69) / 12);
      burst(
        out,
        time,
        0.06,
        4 * length * RATE * 0.5,
        (i) =>
          [1, 2, 3].reduce((sum, h) => sum + Math.sin((2 * Math.PI * hz * h * i) / RATE) / h, 0) *
          Math.min(1, i / 80),
      );
    }
  });
  return out;
}
