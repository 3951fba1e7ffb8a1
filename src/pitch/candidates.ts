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

/**
 * Strength a pitch gives up for lying an octave lower. A signal that repeats after one period repeats after
 * two just as well, so among near equals the higher pitch is meant (Boersma 1993, "octave cost", 0.01 there;
 * 0.08 measured best on clean voices here).
 */
const OCTAVE_COST = 0.08;

/** What a candidate is worth before its neighbours in time are asked. */
export function merit(pitch: number, strength: number): number {
  return strength + (OCTAVE_COST * pitch) / 12;
}
