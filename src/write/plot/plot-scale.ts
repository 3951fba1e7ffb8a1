/** Scales and ticks of the pitch plot. */

/** A straight map from values to places on the paper. */
export interface Axis {
  readonly from: number;
  readonly to: number;
  place(value: number): number;
}

class Straight implements Axis {
  constructor(
    readonly from: number,
    readonly to: number,
    private readonly start: number,
    private readonly end: number,
  ) {}

  place(value: number): number {
    return this.start + ((value - this.from) / (this.to - this.from)) * (this.end - this.start);
  }
}

export function axis([from, to]: readonly [number, number], [start, end]: readonly [number, number]): Axis {
  return new Straight(from, to, start, end);
}

/** Steps between ticks that people count in. */
const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300];

/** Round values inside the axis, no more than `most` of them where a step is large enough. */
export function ticks({ from, to }: Axis, most: number): number[] {
  const step = STEPS.find((tried) => (to - from) / tried <= most) ?? STEPS.at(-1)!;
  const first = Math.ceil(from / step);
  const count = Math.floor(to / step) - first + 1;
  return Array.from({ length: Math.max(count, 0) }, (_, i) => Number(((first + i) * step).toFixed(1)));
}
