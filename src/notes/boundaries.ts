import type { PitchTrack } from '../pitch/types.js';

/** Onset evidence below this cannot start a note by itself. */
const WEAKEST_ONSET = 0.02;
/** Two candidates are at least this far apart. */
const APART_SECONDS = 0.03;
/** A step of the pitch is measured over twice this time, a quick glide's length. */
const STEP_SECONDS = 0.04;
/** … and is at least this large. A wide vibrato moves as much and makes candidates that come to nothing. */
const STEP_SEMITONES = 0.8;
/** A frame less likely voiced than this breaks the voice. */
const VOICED = 0.5;

/**
 * Frames where a note may start: every local maximum of the onset evidence, and, with no such maximum near,
 * every frame where a note begins to sound and every frame in the middle of a step of the pitch. In order,
 * without doubles.
 */
export function boundaryCandidates(track: PitchTrack): number[] {
  const apart = Math.max(1, Math.round(APART_SECONDS / track.grid.hopSeconds));
  const peaks = localMaxima(track.onset, WEAKEST_ONSET, apart);
  const others = [...beginnings(track.sounding), ...localMaxima(pitchSteps(track), STEP_SEMITONES, apart)];
  const taken = new Uint8Array(track.grid.frameCount);
  for (const i of peaks) taken[i] = 1;
  for (const i of others.sort((a, b) => a - b)) {
    if (!taken.subarray(Math.max(0, i - 2 * apart + 1), i + 2 * apart).includes(1)) taken[i] = 1;
  }
  const all: number[] = [];
  for (let i = 0; i < taken.length; i++) if (taken[i] === 1) all.push(i);
  return all;
}

/** Local maxima of at least `least`, the higher one where two are closer than `apart`. */
function localMaxima(values: Float32Array, least: number, apart: number): number[] {
  const found: number[] = [];
  for (let i = 0; i < values.length; i++) {
    const before = i > 0 ? values[i - 1] : -1;
    const after = i + 1 < values.length ? values[i + 1] : -1;
    if (values[i] < least || values[i] < before || values[i] <= after) continue;
    const last = found.length - 1;
    if (last >= 0 && i - found[last] < apart) {
      if (values[i] > values[found[last]]) found[last] = i;
    } else found.push(i);
  }
  return found;
}

/** Frames where a probability rises over one half. */
function beginnings(probability: Float32Array): number[] {
  const found: number[] = [];
  for (let i = 0; i < probability.length; i++) {
    if (probability[i] >= 0.5 && (i === 0 || probability[i - 1] < 0.5)) found.push(i);
  }
  return found;
}

/** How far the pitch moves around each frame, semitones; 0 where the voice breaks. */
function pitchSteps({ pitch, voiced, grid }: PitchTrack): Float32Array {
  const reach = Math.max(1, Math.round(STEP_SECONDS / grid.hopSeconds));
  const steps = new Float32Array(grid.frameCount);
  for (let i = reach; i < grid.frameCount - reach; i++) {
    const whole = voiced[i - reach] >= VOICED && voiced[i] >= VOICED && voiced[i + reach] >= VOICED;
    if (whole) steps[i] = Math.abs(pitch[i + reach] - pitch[i - reach]);
  }
  return steps;
}
