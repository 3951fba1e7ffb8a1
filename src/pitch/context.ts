import { BAND_COUNT, type BandLevels } from './bands.js';
import type { PitchPath } from './best-path.js';

/** Frames before and after the one in question that are looked at: dense near it, sparse further out. */
const OFFSETS = [-16, -12, -9, -7, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 7, 9, 12, 16];
/** Values a frame: bands, whole level, periodicity, pitch against the frame in question. */
const PER_FRAME = BAND_COUNT + 3;
/** Length of one context vector. */
export const CONTEXT_SIZE = OFFSETS.length * PER_FRAME;

/** Decibels that count as one unit; levels lie around 0 (loud) to −3 (60 dB below). */
const DB_PER_UNIT = 20;
const QUIETEST_UNITS = -3;
/** Semitones that count as one unit, and the most that is told. */
const SEMITONES_PER_UNIT = 2;
const FURTHEST_UNITS = 1.5;

/**
 * What surrounds frame `index`, as numbers of order 1 that do not depend on how loud or how high the voice is:
 * levels relative to the recording's loud parts, pitch relative to the frame's own. Frames beyond the ends
 * count as quiet. Written into `out` (length CONTEXT_SIZE).
 */
export function contextOf(levels: BandLevels, path: PitchPath, index: number, out: Float32Array): void {
  const n = levels.levelDb.length;
  const here = path.pitch[index];
  let at = 0;
  for (const offset of OFFSETS) {
    const i = index + offset;
    if (i < 0 || i >= n) {
      out.fill(QUIETEST_UNITS, at, at + BAND_COUNT + 1);
      out[at + BAND_COUNT + 1] = 0;
      out[at + BAND_COUNT + 2] = 0;
      at += PER_FRAME;
      continue;
    }
    for (let b = 0; b < BAND_COUNT; b++)
      out[at++] = levelUnits(levels.bandDb[i * BAND_COUNT + b], levels.loudDb);
    out[at++] = levelUnits(levels.levelDb[i], levels.loudDb);
    out[at++] = path.strength[i];
    const moved = (path.pitch[i] - here) / SEMITONES_PER_UNIT;
    out[at++] = Number.isFinite(moved) ? Math.max(-FURTHEST_UNITS, Math.min(FURTHEST_UNITS, moved)) : 0;
  }
}

function levelUnits(db: number, loudDb: number): number {
  return Math.max(QUIETEST_UNITS, (db - loudDb) / DB_PER_UNIT);
}
