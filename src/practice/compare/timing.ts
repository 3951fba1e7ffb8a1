/**
 * How late each answer comes beside the player's own tempo, which may change by and by (rubato), and where the
 * player waited. Only steps within one run of play count: a jump starts the clock anew. The limits are our choice,
 * looked at on half a of the attempts of `npm run evaluate -- DIR --only compare`.
 */
import { weightedMedian } from '../../dsp/median.js';
import type { SideNote } from './types.js';

/** An answer, in the order of play. */
export interface Answer {
  /** Index in the target. */
  readonly target: number;
  /** Index in the attempt. */
  readonly attempt: number;
  /** Whether the player jumped to it. */
  readonly jumped: boolean;
}

export interface NoteTime {
  /** Seconds late, or early when negative. */
  readonly late: number;
  /** Seconds waited before the note, 0 where the player went on. */
  readonly pause: number;
  /** Seconds of the attempt for one of the target, around here. */
  readonly pace: number;
  /** Seconds by which the answers around differ about when it is expected (weighted median). */
  readonly spread: number;
}

/** Answers on either side from which an answer's time is expected. */
const REACH = 5;
/** The pace around a note stays within these shares of the whole attempt's. */
const SLOWEST = 1.7;
const FASTEST = 0.6;
/** With fewer slopes than these the whole attempt's pace is used. */
const FEWEST_SLOPES = 3;
/** A wait is longer than this many seconds, and than this share of the step; its time is not made up for. */
const PAUSE_SECONDS = 0.35;
const PAUSE_SHARE = 0.7;
const MADE_UP = 0.5;
/** The same where a note was left out or put in, which breaks the time sooner, either way. */
const BROKEN_SECONDS = 0.15;
const BROKEN_SHARE = 0.3;

/** @param pace seconds of the attempt for one of the target, over the whole */
export function timesOf(
  target: readonly SideNote[],
  attempt: readonly SideNote[],
  answers: readonly Answer[],
  pace: number,
): NoteTime[] {
  const runs: Answer[][] = [];
  for (const answer of answers) {
    if (answer.jumped || runs.length === 0) runs.push([]);
    runs.at(-1)!.push(answer);
  }
  return runs.flatMap((run) => timesOfRun(run, target, attempt, pace));
}

function timesOfRun(
  run: readonly Answer[],
  target: readonly SideNote[],
  attempt: readonly SideNote[],
  pace: number,
): NoteTime[] {
  const wanted = run.map((answer) => target[answer.target]!.start);
  const played = run.map((answer) => attempt[answer.attempt]!.start);
  const broken = run.map((answer, k) => {
    const before = run[k - 1] ?? answer;
    return answer.target - before.target + answer.attempt - before.attempt > 2;
  });
  const leaps = leapsIn(wanted, played, broken, pace);
  let leapt = 0;
  const clock = played.map((time, k) => {
    // Nobody skips time where nothing was left out: what looks so is a note that came early.
    if (leaps[k]! > 0 || broken[k]) leapt += leaps[k]!;
    return time - leapt;
  });
  const pauses = leaps.map((seconds, k) => (broken[k] ? 0 : Math.max(0, seconds)));
  return clock.map((time, k) => {
    const near = neighbours(k, wanted);
    if (near.length === 0) return { late: 0, pause: 0, pace, spread: 0 };
    const local = paceAround(near, wanted, clock, pace);
    const guesses = near.map(({ at, weight }) => ({
      value: clock[at]! + local * (wanted[k]! - wanted[at]!),
      weight,
    }));
    const expected = weightedMedian(guesses);
    const spread = weightedMedian(
      guesses.map(({ value, weight }) => ({ value: Math.abs(value - expected), weight })),
    );
    return { late: time - expected, pause: pauses[k]!, pace: local, spread };
  });
}

/** Another answer of the same run: its place, and how much it tells, less the further it is away in time. */
interface Neighbour {
  readonly at: number;
  readonly weight: number;
}

function neighbours(k: number, wanted: readonly number[]): Neighbour[] {
  const near = [...wanted.keys()].filter((n) => n !== k && Math.abs(n - k) <= REACH);
  const away = (n: number) => Math.abs(wanted[n]! - wanted[k]!);
  const nearest = Math.min(...near.map(away));
  return near.map((at) => ({ at, weight: 1 / (nearest + away(at) + 1e-3) }));
}

/** Seconds too long, or too short, between a note and the one before, where the next step does not make up for them. */
function leapsIn(
  wanted: readonly number[],
  played: readonly number[],
  broken: readonly boolean[],
  pace: number,
): number[] {
  const excess = played.map((time, k) =>
    k === 0 ? 0 : time - played[k - 1]! - pace * (wanted[k]! - wanted[k - 1]!),
  );
  return excess.map((seconds, k) => {
    if (k === 0 || k === excess.length - 1) return 0;
    const step = pace * (wanted[k]! - wanted[k - 1]!);
    const allowed = broken[k]
      ? Math.max(BROKEN_SECONDS, BROKEN_SHARE * step)
      : Math.max(PAUSE_SECONDS, PAUSE_SHARE * step);
    const isLong = Math.abs(seconds) > allowed;
    return isLong && excess[k + 1]! / seconds > -MADE_UP ? seconds : 0;
  });
}

/** Median slope between the answers around (Theil 1950; Sen 1968): one note that is off does not bend it. */
function paceAround(
  near: readonly Neighbour[],
  wanted: readonly number[],
  clock: readonly number[],
  pace: number,
): number {
  const slopes = near.flatMap((a, n) =>
    near.slice(n + 1).flatMap((b) => {
      const span = wanted[b.at]! - wanted[a.at]!;
      const weight = span * a.weight * b.weight;
      return span > 0 ? [{ value: (clock[b.at]! - clock[a.at]!) / span, weight }] : [];
    }),
  );
  if (slopes.length < FEWEST_SLOPES) return pace;
  return Math.min(SLOWEST * pace, Math.max(FASTEST * pace, weightedMedian(slopes)));
}
