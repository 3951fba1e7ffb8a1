/** The key and the tempo in which the attempt answers the target best, and the answers. */

import { medianOf, weightedMedian } from '../../dsp/median.js';
import { type Alignment, align } from './align.js';
import type { SideNote } from './types.js';

export interface Found extends Alignment {
  /** Attempt minus target, semitones. */
  readonly transposition: number;
  /** Seconds of the attempt for one of the target; null where no two notes tell. */
  readonly pace: number | null;
}

/** Keys that are tried out, and those of them that are tried again with the tempo. */
const TRIED = 6;
const TRIED_AGAIN = 3;
/** Octaves that are tried where the key is the target's. */
const OCTAVES = [0, -12, 12, -24, 24];
/** Paid for another octave, and for another key, in units of the costs (our choice): the nearest way to take an attempt comes first. */
const OTHER_OCTAVE = 0.2;
const OTHER_KEY = 0.4;
const SEMITONE = 0.005;

/**
 * Tries the likeliest transpositions by pitch alone, then the best of those with the tempo that follows from each,
 * and keeps the cheapest. Both sides must have a note.
 */
export function findAlignment(
  target: readonly SideNote[],
  attempt: readonly SideNote[],
  sameKey: boolean,
  dips: readonly boolean[],
): Found {
  const candidates = sameKey ? OCTAVES : likeliestTranspositions(target, attempt);
  const priced = (transposition: number, pace: number | null) => {
    const alignment = align(target, attempt, { transposition, pace, dips });
    return { ...alignment, transposition, price: alignment.cost + keyPrice(transposition) };
  };
  const timed = candidates
    .map((transposition) => priced(transposition, null))
    .sort((a, b) => a.price - b.price)
    .slice(0, TRIED_AGAIN)
    .map(({ transposition, answers }) =>
      priced(transposition, paceOf(target, attempt, { answers, transposition })),
    )
    .sort((a, b) => a.price - b.price);
  const [{ price: _, ...best }] = timed as [(typeof timed)[0]];
  return { ...best, pace: paceOf(target, attempt, best) };
}

function keyPrice(transposition: number): number {
  if (transposition === 0) return 0;
  return (transposition % 12 === 0 ? OTHER_OCTAVE : OTHER_KEY) + SEMITONE * Math.abs(transposition);
}

/** A pair of notes that could answer each other, beside a pair with the same interval. */
const LONE_NOTE = 0.02;

/**
 * Every pair of equal intervals, one of each side, speaks for a transposition; so does every pair of notes, softly.
 * The loudest first, and 0 always among them.
 */
function likeliestTranspositions(target: readonly SideNote[], attempt: readonly SideNote[]): number[] {
  const votes = new Map<number, number>([[0, 0]]);
  const vote = (transposition: number, weight: number) =>
    votes.set(transposition, (votes.get(transposition) ?? 0) + weight);
  attempt.forEach((played, j) => {
    target.forEach((wanted, i) => {
      const transposition = played.midi - wanted.midi;
      vote(transposition, LONE_NOTE);
      const [nextPlayed, nextWanted] = [attempt[j + 1], target[i + 1]];
      if (nextPlayed === undefined || nextWanted === undefined) return;
      // A repeated note is an interval too, but tells less.
      if (nextPlayed.midi - played.midi === nextWanted.midi - wanted.midi) {
        vote(transposition, nextPlayed.midi === played.midi ? LONE_NOTE : 1);
      }
    });
  });
  const ranked = [...votes].sort((a, b) => b[1] - a[1] || Math.abs(a[0]) - Math.abs(b[0]));
  return [...new Set([...ranked.slice(0, TRIED).map(([transposition]) => transposition), 0])];
}

/** Steps whose ratio is off the middle one by more than this share are waits or slips, and tell nothing of the tempo. */
const LIKE_THE_MIDDLE = 0.4;

/**
 * Seconds played over seconds wanted, of the steps between right answers to neighbouring notes of the target, without
 * those far off the median of their ratios: so a tempo that comes and goes is averaged.
 */
export function paceOf(
  target: readonly SideNote[],
  attempt: readonly SideNote[],
  { answers, transposition }: Pick<Found, 'answers' | 'transposition'>,
): number | null {
  const ratios: { value: number; weight: number }[] = [];
  for (let j = 1; j < attempt.length; j++) {
    const [i, before] = [answers[j]!, answers[j - 1]!];
    if (i < 1 || before !== i - 1) continue;
    const right = [j, j - 1].every((k) => attempt[k]!.midi - target[answers[k]!]!.midi === transposition);
    const step = target[i]!.start - target[before]!.start;
    if (!right || step <= 0) continue;
    ratios.push({ value: (attempt[j]!.start - attempt[j - 1]!.start) / step, weight: step });
  }
  if (ratios.length === 0) return spanRatio(target, attempt, answers);
  const middle = weightedMedian(ratios);
  const like = ratios.filter(({ value }) => Math.abs(value - middle) <= LIKE_THE_MIDDLE * middle);
  const total = like.reduce((sum, { weight }) => sum + weight, 0);
  return like.reduce((sum, { value, weight }) => sum + value * weight, 0) / total;
}

/** From the first answer to the last, where no neighbours answer neighbours. */
function spanRatio(target: readonly SideNote[], attempt: readonly SideNote[], answers: Int32Array) {
  const pairs = [...answers.keys()].filter((j) => answers[j]! >= 0);
  const ratios = pairs.slice(1).flatMap((j, k) => {
    const step = target[answers[j]!]!.start - target[answers[pairs[k]!]!]!.start;
    return step > 0 ? [(attempt[j]!.start - attempt[pairs[k]!]!.start) / step] : [];
  });
  return ratios.length === 0 ? null : medianOf(ratios);
}
