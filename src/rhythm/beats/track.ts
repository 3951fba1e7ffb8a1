/** A count that runs with the music: how many pulses have passed at every moment. */

/**
 * A piecewise linear, increasing map between seconds and pulses, carried on at both ends at the rate of the
 * first and last piece. At least two knots.
 */
export interface Track {
  /** Seconds of the knots, increasing. */
  readonly seconds: readonly number[];
  /** Pulses counted at the knots, increasing. */
  readonly counts: readonly number[];
}

/** A track of one rate: `count` at `seconds`, `hz` pulses a second. */
export function steadyTrack(hz: number, seconds: number, count: number): Track {
  return { seconds: [seconds, seconds + 1], counts: [count, count + hz] };
}

export function countAt(track: Track, seconds: number): number {
  return interpolate(track.seconds, track.counts, seconds);
}

export function secondsAt(track: Track, count: number): number {
  return interpolate(track.counts, track.seconds, count);
}

/** The track with every count multiplied, then moved. */
export function rescale(track: Track, factor: number, shift = 0): Track {
  return { seconds: track.seconds, counts: track.counts.map((count) => count * factor + shift) };
}

function interpolate(from: readonly number[], to: readonly number[], x: number): number {
  let low = 0;
  let high = from.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (from[middle]! <= x) low = middle;
    else high = middle;
  }
  const slope = (to[high]! - to[low]!) / (from[high]! - from[low]!);
  return to[low]! + (x - from[low]!) * slope;
}
