/** What the network should say, frame by frame, from what is known of a recording. */
import { type FrameGrid, frameToSeconds } from '../../src/dsp/frame-grid.js';

/** What is known of a recording; what is null is not known, and is not trained there. */
export interface Labels {
  readonly notes: readonly { readonly start: number; readonly end: number }[] | null;
  /**
   * Seconds that the labelled onsets are taken to be late. Annotators do not mean the same moment: those of the
   * sight-singing set mark the vowel, others the arrival of the pitch some 40 ms earlier. The middle serves both.
   */
  readonly lateSeconds: number;
  /** Whether a pitched voice sounds, at evenly spaced times. */
  readonly voiced: {
    readonly firstSeconds: number;
    readonly hopSeconds: number;
    readonly values: readonly boolean[];
  } | null;
}

/** Outputs of the network: onset, note sounding, pitched voice. */
export const OUTPUTS = 3;
/** Stands for a target that is not known. */
export const UNKNOWN = -1;
/** Width (standard deviation) of the bump around an onset: about as exact as people place them. */
const ONSET_SIGMA_SECONDS = 0.015;
/** The bump is cut here, 3.3 deviations from its middle. */
const ONSET_REACH_SECONDS = 0.05;

/** Targets of every frame, OUTPUTS values each: 0..1, or UNKNOWN. */
export function targetsOf(labels: Labels, grid: FrameGrid): Float32Array {
  const targets = new Float32Array(grid.frameCount * OUTPUTS).fill(UNKNOWN);
  for (let i = 0; i < grid.frameCount; i++) {
    const seconds = frameToSeconds(grid, i);
    if (labels.notes !== null) {
      targets[i * OUTPUTS] = 0;
      targets[i * OUTPUTS + 1] = 0;
    }
    const { voiced } = labels;
    const value = voiced?.values[Math.round((seconds - voiced.firstSeconds) / voiced.hopSeconds)];
    if (value !== undefined) targets[i * OUTPUTS + 2] = value ? 1 : 0;
  }
  for (const note of labels.notes ?? []) addNote(targets, grid, note.start - labels.lateSeconds, note.end);
  return targets;
}

/** Where notes overlap, a frame keeps the greater of its onset targets. */
function addNote(targets: Float32Array, grid: FrameGrid, start: number, end: number): void {
  const frameAt = (seconds: number) => (seconds - grid.firstCentreSeconds) / grid.hopSeconds;
  const first = Math.max(0, Math.ceil(frameAt(start - ONSET_REACH_SECONDS)));
  const last = Math.min(grid.frameCount - 1, Math.floor(frameAt(Math.max(start + ONSET_REACH_SECONDS, end))));
  for (let i = first; i <= last; i++) {
    const seconds = frameToSeconds(grid, i);
    const away = Math.abs(seconds - start);
    if (away <= ONSET_REACH_SECONDS) {
      const bump = Math.exp(-0.5 * (away / ONSET_SIGMA_SECONDS) ** 2);
      targets[i * OUTPUTS] = Math.max(targets[i * OUTPUTS], bump);
    }
    if (seconds >= start && seconds < end) targets[i * OUTPUTS + 1] = 1;
  }
}
