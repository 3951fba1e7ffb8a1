/** What the parent asks of the process that tries the cases, and what it answers. */
export interface Ask {
  readonly path: string;
  readonly seed: number;
  /** Whether the memory is measured after it, garbage collected. */
  readonly settle: boolean;
}

export interface Answer {
  /** What was wrong, null where the outcome is as it must be. */
  readonly wrong: string | null;
  readonly cpuSeconds: number;
  /** High-water mark of the process's memory so far. */
  readonly peakMegabytes: number;
  readonly residentMegabytes: number | null;
}
