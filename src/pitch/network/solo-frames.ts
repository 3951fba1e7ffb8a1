import type { PitchPath } from '../best-path.js';
import { type FineLevels, MEL_BANDS } from './mel.js';
import { levelUnits } from './units.js';

/** Moments whose pitch is compared with the frame's own, in frames of 10 ms. */
const MOMENTS = [-16, -8, -4, -2, -1, 1, 2, 4, 8, 16];
/** Semitones that count as one unit, and the most that is told. */
const SEMITONES_PER_UNIT = 2;
const FURTHEST_UNITS = 1.5;
/** Values of a frame: levels of the bands, pitch at the moments, periodicity, level of the whole. */
export const SOLO_VALUES = MEL_BANDS + MOMENTS.length + 2;

/**
 * The solo network's input: value c of frame u at `c * frameCount + u`.
 *
 * @param levels of the frames (mel.ts), as many as the path has
 * @param path the solo tracker's best path, on the grid of 10 ms
 */
export function soloFrames(levels: FineLevels, path: PitchPath): Float32Array {
  const { frameCount, mel, wholeDb } = levels;
  const out = new Float32Array(SOLO_VALUES * frameCount);
  for (let b = 0; b < MEL_BANDS; b++) {
    for (let u = 0; u < frameCount; u++) out[b * frameCount + u] = mel[u * MEL_BANDS + b];
  }
  MOMENTS.forEach((moment, m) => {
    const row = (MEL_BANDS + m) * frameCount;
    for (let u = 0; u < frameCount; u++) {
      // Beyond the ends the pitch is undefined, and so is the difference.
      const moved = (path.pitch[u + moment] - path.pitch[u]) / SEMITONES_PER_UNIT;
      out[row + u] = Number.isFinite(moved) ? Math.min(Math.max(moved, -FURTHEST_UNITS), FURTHEST_UNITS) : 0;
    }
  });
  out.set(path.strength.subarray(0, frameCount), (SOLO_VALUES - 2) * frameCount);
  for (let u = 0; u < frameCount; u++) out[(SOLO_VALUES - 1) * frameCount + u] = levelUnits(wholeDb[u]);
  return out;
}
