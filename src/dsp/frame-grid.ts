/**
 * The time of a frame, defined once. Frame i is centred at `firstCentreSeconds + i·hopSeconds`: a frame's
 * measurements describe the signal around that time, so no stage may add a delay of its own.
 */
export interface FrameGrid {
  /** Seconds between the centres of neighbouring frames. */
  readonly hopSeconds: number;
  /** Time of the centre of frame 0, in seconds from the first sample. */
  readonly firstCentreSeconds: number;
  /** Number of frames. */
  readonly frameCount: number;
}

/** Time of the centre of frame `index` in seconds; `index` may be fractional. */
export function frameToSeconds(grid: FrameGrid, index: number): number {
  return grid.firstCentreSeconds + index * grid.hopSeconds;
}

/** Index of the frame whose centre is nearest to `seconds`, kept inside the grid. */
export function secondsToFrame(grid: FrameGrid, seconds: number): number {
  const index = Math.round((seconds - grid.firstCentreSeconds) / grid.hopSeconds);
  return Math.min(Math.max(index, 0), grid.frameCount - 1);
}
