import type { OnsetStrength } from './onset-strength.js';

/** Onset strength made even: every register has mean square 1 in its surroundings, and slow swells are gone. */
export interface Accents {
  readonly low: Float32Array;
  readonly high: Float32Array;
  /** The three registers together, mean square 1 over the recording. */
  readonly all: Float32Array;
}

/** Frames either side over which the mean is taken out: 0.4 s, about a beat, so that a roll does not hide a beat. */
const MEAN_FRAMES = 40;
/** Frames either side over which the mean square is made 1: 3 s, so that a quiet verse counts like its chorus. */
const LEVEL_FRAMES = 300;
/** Least mean square of surroundings, as a share of the recording's: silence between songs is not blown up. */
const LEAST_LEVEL = 0.05;
/** Frames, standard deviation of the smoothing: players of one band are about 15 ms apart. */
const SMOOTHING_FRAMES = 1.5;

/** Levels the registers of an onset strength, smooths them and adds them up. Silence stays 0. Linear in the frames. */
export function accentsOf(strength: OnsetStrength): Accents {
  const [low, middle, high] = [strength.low, strength.middle, strength.high].map((register) =>
    smoothed(levelled(register)),
  ) as [Float32Array, Float32Array, Float32Array];
  const all = low.map((value, i) => value + middle[i]! + high[i]!);
  const square = all.reduce((sum, value) => sum + value * value, 0) / Math.max(1, all.length);
  const gain = square > 0 ? 1 / Math.sqrt(square) : 0;
  return { low, high, all: all.map((value) => gain * value) };
}

function levelled(register: Float32Array): Float32Array {
  const count = register.length;
  const sums = runningSums(register, (value) => value);
  const above = register.map((value, i) => {
    const from = Math.max(0, i - MEAN_FRAMES);
    const to = Math.min(count, i + MEAN_FRAMES + 1);
    return Math.max(0, value - (sums[to]! - sums[from]!) / (to - from));
  });
  const squares = runningSums(above, (value) => value * value);
  const least = (LEAST_LEVEL * squares[count]!) / Math.max(1, count);
  return above.map((value, i) => {
    if (value === 0) return 0;
    const from = Math.max(0, i - LEVEL_FRAMES);
    const to = Math.min(count, i + LEVEL_FRAMES + 1);
    return value / Math.sqrt((squares[to]! - squares[from]!) / (to - from) + least);
  });
}

/** Sums of the first 0, 1, … values. */
function runningSums(values: Float32Array, of: (value: number) => number): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i]! + of(values[i]!);
  return sums;
}

/** Convolved with a Gaussian of SMOOTHING_FRAMES, cut off at three standard deviations. */
function smoothed(values: Float32Array): Float32Array {
  const reach = Math.ceil(3 * SMOOTHING_FRAMES);
  const bell = Float64Array.from({ length: reach + 1 }, (_, k) =>
    Math.exp(-0.5 * (k / SMOOTHING_FRAMES) ** 2),
  );
  const sum = 2 * bell.reduce((total, weight) => total + weight, 0) - bell[0]!;
  const out = new Float32Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const value = values[i]! / sum;
    if (value === 0) continue;
    for (let k = -Math.min(reach, i); k <= Math.min(reach, values.length - 1 - i); k++) {
      out[i + k]! += value * bell[Math.abs(k)]!;
    }
  }
  return out;
}

/** A value between frames, by a straight line; 0 outside. */
export function valueAt(values: Float32Array, frame: number): number {
  const before = Math.floor(frame);
  if (before < 0 || before >= values.length - 1) return 0;
  const share = frame - before;
  return values[before]! * (1 - share) + values[before + 1]! * share;
}
