import { MAX_CANDIDATES, merit, type PitchCandidates } from './candidates.js';

/** Cost of moving an octave from one frame to the next (Boersma 1993, "octave-jump cost", 0.35 at 10 ms). */
const JUMP_COST = 0.7;

/** One pitch a frame and how periodic the frame is there. */
export interface PitchPath {
  /** MIDI numbers; where a frame has none the last one before it, or the first; NaN only if no frame has any. */
  readonly pitch: Float32Array;
  /** 0..1; 0 where a frame has no candidate. */
  readonly strength: Float32Array;
}

/**
 * The smoothest strong path through the candidates (dynamic programming, after Boersma 1993, section 3):
 * each frame costs what its candidate lacks in strength, each step costs the distance moved. Steps into or out
 * of a weak frame cost less, since a pause frees the next note from the last.
 *
 * @param bonus what each candidate is worth besides, where its entry in `candidates.strength` lies
 */
export function bestPath(candidates: PitchCandidates, bonus?: Float32Array): PitchPath {
  const { count, pitch, strength, grid } = candidates;
  const n = grid.frameCount;
  const from = new Int8Array(n * MAX_CANDIDATES).fill(-1);
  let last = new Float64Array(MAX_CANDIDATES);
  let cost = new Float64Array(MAX_CANDIDATES);
  let lastFrame = -1;
  const previousFrame = new Int32Array(n).fill(-1);
  for (let i = 0; i < n; i++) {
    if (count[i] === 0) continue;
    const base = i * MAX_CANDIDATES;
    previousFrame[i] = lastFrame;
    const gap = i - lastFrame;
    const before = lastFrame * MAX_CANDIDATES;
    const choices = lastFrame < 0 ? 0 : count[lastFrame];
    for (let k = base; k < base + count[i]; k++) {
      const p = pitch[k];
      const s = strength[k];
      let best = choices === 0 ? 0 : Number.POSITIVE_INFINITY;
      for (let j = 0; j < choices; j++) {
        if (last[j] >= best) continue;
        const grip = Math.min(s, strength[before + j]);
        const step = ((JUMP_COST * Math.abs(p - pitch[before + j])) / 12) * grip * grip;
        const total = last[j] + step / gap;
        if (total < best) {
          best = total;
          from[k] = j;
        }
      }
      cost[k - base] = best - merit(p, s) - (bonus === undefined ? 0 : bonus[k]);
    }
    [last, cost] = [cost, last];
    lastFrame = i;
  }
  return trace(candidates, cheapest(last, count, lastFrame), lastFrame, from, previousFrame);
}

/** The candidate of the last frame that has any with which the path costs least. */
function cheapest(cost: Float64Array, count: Uint8Array, frame: number): number {
  let best = 0;
  for (let k = 1; k < (count[frame] ?? 0); k++) if (cost[k] < cost[best]) best = k;
  return best;
}

function trace(
  { count, pitch, strength, grid }: PitchCandidates,
  lastCandidate: number,
  lastFrame: number,
  from: Int8Array,
  previousFrame: Int32Array,
): PitchPath {
  const path = {
    pitch: new Float32Array(grid.frameCount).fill(Number.NaN),
    strength: new Float32Array(grid.frameCount),
  };
  let k = lastCandidate;
  for (let i = lastFrame; i >= 0; ) {
    const at = i * MAX_CANDIDATES + k;
    path.pitch[i] = pitch[at];
    path.strength[i] = strength[at];
    k = from[at];
    i = previousFrame[i];
  }
  hold(path.pitch, count);
  return path;
}

/** Fills frames without candidates with the last earlier pitch, or the first one at the start. */
function hold(pitch: Float32Array, count: Uint8Array): void {
  const first = count.findIndex((c) => c > 0);
  if (first < 0) return;
  let held = pitch[first];
  for (let i = 0; i < pitch.length; i++) {
    if (count[i] > 0) held = pitch[i];
    else pitch[i] = held;
  }
}
