/** Candidates made by hand. */
import { MAX_CANDIDATES, type PitchCandidates } from '../../src/pitch/candidates.js';

export type Candidate = readonly [pitch: number, strength: number];

/** Candidates frame by frame. */
export function candidatesOf(frames: readonly (readonly Candidate[])[]): PitchCandidates {
  const size = frames.length * MAX_CANDIDATES;
  const out = {
    grid: { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: frames.length },
    count: Uint8Array.from(frames, (f) => f.length),
    pitch: new Float32Array(size),
    strength: new Float32Array(size),
  };
  frames.forEach((frame, i) => {
    frame.forEach(([pitch, strength], k) => {
      out.pitch[i * MAX_CANDIDATES + k] = pitch;
      out.strength[i * MAX_CANDIDATES + k] = strength;
    });
  });
  return out;
}
