/** Shortest and longest beat that is taken for one, in seconds: 1000 and 4 a minute, and what rounding makes of them. */
export const BEAT_SECONDS = { least: 0.058, most: 15.002 } as const;
/** The same for people. */
export const BEAT_SPAN = '0.06 to 15 s';

/** Index of the first of a row of beats (seconds) that is too near to the one before it, or too far; −1 where all are well. */
export function findBeatFault(beats: readonly number[]): number {
  return beats.findIndex((time, index) => {
    if (index === 0) return false;
    const span = time - beats[index - 1]!;
    return span < BEAT_SECONDS.least || span > BEAT_SECONDS.most;
  });
}
