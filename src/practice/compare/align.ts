/**
 * Which note of the attempt answers which note of the target: an edit distance over notes, by pitch and time
 * together (Mongeau & Sankoff 1990, "Comparison of musical sequences"; intervals and ratios of onsets in place of
 * keys and times as in Dannenberg & Hu 2004), with jumps, since players go back and play again.
 */
import { middleOf } from '../../dsp/median.js';
import { COSTS, isOther, pitchCost, shiftedCost, timeCost } from './costs.js';
import { createJumps, NONE, skipped } from './jumps.js';
import type { SideNote } from './types.js';

export interface AlignSettings {
  /** Attempt minus target, semitones. */
  readonly transposition: number;
  /** Seconds of the attempt for one of the target; null: time is left out. */
  readonly pace: number | null;
  /** For each note of the attempt, whether it is a dip. */
  readonly dips: readonly boolean[];
}

export interface Alignment {
  readonly cost: number;
  /** For each note of the attempt the index of the target's note, −1 where it answers none. */
  readonly answers: Int32Array;
  /** For each note of the attempt, whether the player jumped to it, forward or back. */
  readonly jumped: readonly boolean[];
}

/**
 * The steps without a jump, in notes of the attempt and of the target: on to the next, or past up to three notes of
 * one side. Past notes of both sides at once is a wrong note instead.
 */
const STEPS_PLAYED = [1, 1, 2, 1, 3, 1, 4];
const STEPS_WANTED = [1, 2, 1, 3, 1, 4, 1];

/**
 * D[j][i], the least cost of the attempt up to its note j where that answers note i of the target, comes by a step
 * from D[j−dj][i−di] (notes between are extra or missed), or by a jump from any earlier note of the attempt to any
 * note of the target. Time and memory grow with the product of the lengths.
 */
export function align(
  target: readonly SideNote[],
  attempt: readonly SideNote[],
  { transposition, pace, dips }: AlignSettings,
): Alignment {
  const [rows, columns] = [attempt.length, target.length];
  const cost = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array(rows * columns).fill(NONE);
  const jump = new Uint8Array(rows * columns);
  const wanted = Int16Array.from(target, (note) => note.midi + transposition);
  const wantedStart = Float64Array.from(target, (note) => (pace ?? 0) * note.start);
  const played = Int16Array.from(attempt, (note) => note.midi);
  const playedStart = Float64Array.from(attempt, (note) => note.start);
  const offAt = (at: number) => played[Math.floor(at / columns)]! - wanted[at % columns]!;
  // What it costs that none of the notes before note j answers any.
  const extras = new Float64Array(rows + 1);
  dips.forEach((isDip, j) => {
    extras[j + 1] = extras[j]! + (isDip ? COSTS.extraDip : COSTS.extra);
  });
  const jumps = createJumps(target);
  const pauses = pausesBefore(attempt);

  for (let j = 0; j < rows; j++) {
    if (j > 0) {
      const row = cost.subarray((j - 1) * columns, j * columns);
      jumps.add(row, (j - 1) * columns, extras[j]! - extras[j - 1]!, pauses[j]!);
    }
    for (let i = 0; i < columns; i++) {
      const off = played[j]! - wanted[i]!;
      const doubtful = off !== 0 && isOther(attempt[j]!, target[i]!, transposition);
      const own = off === 0 ? 0 : dips[j] === true ? COSTS.dip : pitchCost(off, doubtful);
      let best = extras[j]! + skipped(i) + own;
      let source = NONE;
      let isJump = 0;
      for (let step = 0; step < STEPS_PLAYED.length; step++) {
        const dj = STEPS_PLAYED[step]!;
        const di = STEPS_WANTED[step]!;
        if (dj > j || di > i) continue;
        const before = (j - dj) * columns + i - di;
        let sum = cost[before]! + extras[j]! - extras[j - dj + 1]! + (di - 1) * COSTS.missed;
        if (sum >= best) continue;
        if (own > 0) sum += Math.min(own, shiftedCost(off, played[j - dj]! - wanted[i - di]!));
        if (pace !== null) {
          const expected = wantedStart[i]! - wantedStart[i - di]!;
          sum += timeCost(playedStart[j]! - playedStart[j - dj]!, expected, dj + di > 2);
        }
        if (sum < best) {
          best = sum;
          source = before;
          isJump = 0;
        }
      }
      if (jumps.cost[i]! < best) {
        const before = jumps.source[i]!;
        const landing = jumps.cost[i]! + (own > 0 ? Math.min(own, shiftedCost(off, offAt(before))) : 0);
        if (landing < best) {
          best = landing;
          source = before;
          isJump = 1;
        }
      }
      cost[j * columns + i] = best;
      from[j * columns + i] = source;
      jump[j * columns + i] = isJump;
    }
  }
  return traced(cost, from, jump, extras, columns);
}

/** Whether the player waits before a note: longer than PAUSE times the middle step from note to note. */
function pausesBefore(attempt: readonly SideNote[]): boolean[] {
  const steps = attempt.slice(1).map((note, j) => note.start - attempt[j]!.start);
  const middle = middleOf(steps) ?? 0;
  return attempt.map((_, j) => j > 0 && steps[j - 1]! > COSTS.pause * middle);
}

function traced(
  cost: Float64Array,
  from: Int32Array,
  jump: Uint8Array,
  extras: Float64Array,
  columns: number,
): Alignment {
  const rows = extras.length - 1;
  let total = extras[rows]! + skipped(columns);
  let at = NONE;
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const whole = cost[j * columns + i]! + extras[rows]! - extras[j + 1]! + skipped(columns - 1 - i);
      if (whole < total) {
        total = whole;
        at = j * columns + i;
      }
    }
  }
  const answers = new Int32Array(rows).fill(NONE);
  const jumped: boolean[] = new Array(rows).fill(false);
  for (; at !== NONE; at = from[at]!) {
    const j = Math.floor(at / columns);
    answers[j] = at % columns;
    jumped[j] = jump[at] === 1;
  }
  return { cost: total, answers, jumped };
}
