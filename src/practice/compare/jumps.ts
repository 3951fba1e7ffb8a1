import { COSTS } from './costs.js';
import type { SideNote } from './types.js';

/** No place. */
export const NONE = -1;

/** Notes of the target left out at its beginning, its end or in a jump: a passage costs less than so many single notes. */
export function skipped(notes: number): number {
  return notes * COSTS.skipped;
}

export interface Jumps {
  /** For each note of the target, what it costs to be about to play it after a jump; infinite before `add`. */
  readonly cost: Float64Array;
  /** Where that jump starts: a place in the table of the alignment. */
  readonly source: Int32Array;
  /**
   * Adds the alignment's costs up to the next note of the attempt.
   * @param row for each note of the target, the cost where the attempt's note answers it
   * @param first place of the row in the table
   * @param extra what it costs that this note answers none
   * @param paused whether the player waited before the note to come
   */
  add(row: Float64Array, first: number, extra: number, paused: boolean): void;
}

/** The cheapest way to jump to each note of the target from anywhere before. */
export function createJumps(target: readonly SideNote[]): Jumps {
  const columns = target.length;
  const infinite = () => new Float64Array(columns).fill(Number.POSITIVE_INFINITY);
  // Least cost of having answered note i last, with whatever was played since as extra notes.
  const least = infinite();
  const leastAt = new Int32Array(columns).fill(NONE);
  const [cost, source] = [infinite(), new Int32Array(columns).fill(NONE)];
  const startsLine = target.map((note, i) => i === 0 || note.line !== target[i - 1]!.line);

  const landBack = (paused: boolean) => {
    let best = columns - 1;
    for (let i = columns - 1; i >= 0; i--) {
      if (least[i]! < least[best]!) best = i;
      cost[i] =
        least[best]! + COSTS.back + (paused ? 0 : COSTS.unpaused) + (startsLine[i] ? 0 : COSTS.midLine);
      source[i] = leastAt[best]!;
    }
  };
  const landAhead = () => {
    let best = 0;
    for (let i = 1; i < columns; i++) {
      const onward = least[best]! + COSTS.forward + skipped(i - best - 1);
      if (onward < cost[i]!) {
        cost[i] = onward;
        source[i] = leastAt[best]!;
      }
      if (least[i]! <= least[best]! + skipped(i - best)) best = i;
    }
  };
  return {
    cost,
    source,
    add(row, first, extra, paused) {
      for (let i = 0; i < columns; i++) {
        least[i]! += extra;
        if (row[i]! < least[i]!) {
          least[i] = row[i]!;
          leastAt[i] = first + i;
        }
      }
      landBack(paused);
      landAhead();
    },
  };
}
