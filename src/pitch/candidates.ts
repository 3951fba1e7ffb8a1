import type { FrameGrid } from '../dsp/frame-grid.js';

/** Most candidates kept for a frame. */
export const MAX_CANDIDATES = 8;

/** Pitch candidates of every frame; entries of frame i lie at `i * MAX_CANDIDATES + k`, k < count[i]. */
export interface PitchCandidates {
  readonly grid: FrameGrid;
  /** Number of candidates of each frame, 0..MAX_CANDIDATES. */
  readonly count: Uint8Array;
  /** MIDI numbers. */
  readonly pitch: Float32Array;
  /** How periodic the frame is at that pitch, 0..1 (1: the signal repeats exactly). */
  readonly strength: Float32Array;
}
