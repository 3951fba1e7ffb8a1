import type { PitchTrack } from '../pitch/types.js';

/** Onset evidence below this cannot start a note. */
const WEAKEST_ONSET = 0.02;
/** Two candidates are at least this far apart. */
const APART_SECONDS = 0.03;

/**
 * Frames where a note may start: every local maximum of the onset evidence, and every frame where a note
 * begins to sound with no such maximum near. In order, without doubles.
 */
export function boundaryCandidates(track: PitchTrack): number[] {
  const { onset, sounding, grid } = track;
  const apart = Math.max(1, Math.round(APART_SECONDS / grid.hopSeconds));
  const peaks: number[] = [];
  for (let i = 0; i < grid.frameCount; i++) {
    const before = i > 0 ? onset[i - 1] : -1;
    const after = i + 1 < grid.frameCount ? onset[i + 1] : -1;
    if (onset[i] < WEAKEST_ONSET || onset[i] < before || onset[i] <= after) continue;
    const last = peaks.length - 1;
    if (last >= 0 && i - peaks[last] < apart) {
      if (onset[i] > onset[peaks[last]]) peaks[last] = i;
    } else peaks.push(i);
  }
  const all = [...peaks];
  for (let i = 0; i < grid.frameCount; i++) {
    const begins = sounding[i] >= 0.5 && (i === 0 || sounding[i - 1] < 0.5);
    if (begins && !peaks.some((p) => Math.abs(p - i) < 2 * apart)) all.push(i);
  }
  return all.sort((a, b) => a - b);
}
