/** Longest quarter note that a tempo event can hold, in microseconds: three bytes (SMF 1.0, "Set Tempo"). */
export const LONGEST_QUARTER = 2 ** 24 - 1;

/** How far a beat of the file may be from the melody's, in seconds: half a tick at 60 beats a minute (our choice). */
export const BEAT_TOLERANCE = 0.0005;

/** A stretch of beats at one tempo. */
export interface TempoRun {
  /** Number of its first beat, from 0. */
  readonly beat: number;
  /** Whole microseconds a quarter note. */
  readonly microseconds: number;
}

/**
 * The fewest stretches of one tempo that keep every beat to `BEAT_TOLERANCE`: from where the last one ended, each
 * takes as many beats as one whole number of microseconds fits. Errors do not add up, as each starts from the time
 * that the file has reached. Null where a beat is too long for a tempo event.
 *
 * @param beats seconds, increasing, at least two
 * @param from seconds at which the file has its first beat
 * @param quarters quarter notes in a beat
 */
export function tempoRuns(beats: readonly number[], from: number, quarters: number): TempoRun[] | null {
  const runs: TempoRun[] = [];
  let at = 0;
  let clock = from;
  while (at < beats.length - 1) {
    let least = 1;
    let most = LONGEST_QUARTER;
    let last = at;
    for (let i = at + 1; i < beats.length; i++) {
      const perQuarter = 1e6 / ((i - at) * quarters);
      const low = Math.max(least, Math.ceil((beats[i]! - BEAT_TOLERANCE - clock) * perQuarter));
      const high = Math.min(most, Math.floor((beats[i]! + BEAT_TOLERANCE - clock) * perQuarter));
      if (low > high) break;
      [least, most, last] = [low, high, i];
    }
    if (last === at) return null;
    const length = (last - at) * quarters;
    const wanted = Math.round(((beats[last]! - clock) * 1e6) / length);
    const microseconds = Math.min(Math.max(wanted, least), most);
    runs.push({ beat: at, microseconds });
    clock += (microseconds * length) / 1e6;
    at = last;
  }
  return runs;
}
