/** Recordings → examples: which frames are trained, and what is wanted there. */
import type { Random } from '../../fixtures/maker/random.js';
import { type Features, featuresOf } from './features.js';
import { withNoise } from './noise.js';
import { type Labels, OUTPUTS, targetsOf } from './targets.js';

/** A recording at ANALYSIS_RATE with what is known of it. */
export interface Labelled {
  readonly samples: Float32Array;
  readonly labels: Labels;
  /** Weight of one of its frames in the loss. */
  readonly weight: number;
  /** How many frames of each version are trained, drawn at random; more than it has: all. */
  readonly mostFrames: number;
}

/** Frames of one version of a recording that are trained. */
export interface Part {
  readonly features: Features;
  /** OUTPUTS values a frame of the recording. */
  readonly targets: Float32Array;
  readonly weight: number;
  readonly frames: Int32Array;
}

/** All examples: number k is frame `frame[k]` of `parts[part[k]]`. */
export interface Examples {
  readonly parts: readonly Part[];
  readonly part: Int32Array;
  readonly frame: Int32Array;
}

/** A recording is used twice: as it is, and with noise. */
export function partsOf(recording: Labelled, random: Random): Part[] {
  const noisy = withNoise(recording.samples, random);
  return [recording.samples, noisy].map((samples) => {
    const features = featuresOf(samples);
    return {
      features,
      targets: targetsOf(recording.labels, features.grid),
      weight: recording.weight,
      frames: drawn(features.grid.frameCount, recording.mostFrames, random),
    };
  });
}

export function examplesOf(parts: readonly Part[]): Examples {
  const count = parts.reduce((sum, part) => sum + part.frames.length, 0);
  const part = new Int32Array(count);
  const frame = new Int32Array(count);
  let at = 0;
  parts.forEach((p, index) => {
    part.fill(index, at, at + p.frames.length);
    frame.set(p.frames, at);
    at += p.frames.length;
  });
  return { parts, part, frame };
}

/** Up to `most` of the numbers 0 … count − 1, each as likely, none twice. */
function drawn(count: number, most: number, random: Random): Int32Array {
  const numbers = Int32Array.from({ length: count }, (_, i) => i);
  const kept = Math.min(count, most);
  for (let i = 0; i < kept; i++) swap(numbers, i, i + Math.floor(random.next() * (count - i)));
  return numbers.slice(0, kept);
}

/** Puts numbers into a random order, in place (Fisher & Yates). */
export function shuffle(numbers: Int32Array, random: Random): void {
  for (let i = numbers.length - 1; i > 0; i--) swap(numbers, i, Math.floor(random.next() * (i + 1)));
}

function swap(numbers: Int32Array, i: number, j: number): void {
  const kept = numbers[i];
  numbers[i] = numbers[j];
  numbers[j] = kept;
}

/** Writes the wanted outputs of a frame and their weights into `wanted` and `weights`; unknown ones weigh 0. */
export function wantedAt(part: Part, frame: number, wanted: Float32Array, weights: Float32Array): void {
  for (let o = 0; o < OUTPUTS; o++) {
    const target = part.targets[frame * OUTPUTS + o];
    wanted[o] = Math.max(0, target);
    weights[o] = target < 0 ? 0 : part.weight;
  }
}
