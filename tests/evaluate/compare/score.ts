/** How many of the known mistakes of an attempt are found, and what is called a mistake that is none. */
import { compare } from '../../../src/practice/compare/compare.js';
import type { Comparison, Side } from '../../../src/practice/compare/types.js';
import type { Attempt, PlayedNote } from './attempts.js';
import { sideOf } from './songs.js';

export interface Counted {
  readonly found: number;
  readonly of: number;
}

export interface AttemptScore {
  readonly clean: boolean;
  /** Key right; tempo within TEMPO_SHARE. */
  readonly key: boolean;
  readonly tempo: boolean;
  /** With the right size. */
  readonly wrong: Counted;
  readonly missed: Counted;
  readonly extra: Counted;
  /** Late and early notes. */
  readonly moved: Counted;
  /** Notes of tries that broke off. */
  readonly restart: Counted;
  /** Lines a step off that are one mistake. */
  readonly line: Counted;
  /** Notes without a mistake, and those called wrong, missed or (beside them) extra. */
  readonly falseKeys: Counted;
  /** The same for early, late and short. */
  readonly falseTimes: Counted;
}

const TEMPO_SHARE = 0.05;
/** A heard note is the performed one whose onset is the nearest, within these seconds. */
const SAME_SECONDS = 0.12;

/** The attempt as exact notes. */
export function exactSide(attempt: Attempt): Side {
  return sideOf(attempt.notes, [0]);
}

export function scoreAttempt(attempt: Attempt, side: Side): AttemptScore {
  const result = compare(attempt.song.target, side, { sameKey: false, line: null });
  const byTarget = new Map(result.notes.flatMap((v) => (v.target === null ? [] : [[v.target - 1, v]])));
  const performed = side.notes.map((note) => nearest(attempt.notes, note.start));
  const verdictOf = (note: PlayedNote) => {
    const j = performed.indexOf(note);
    return j < 0 ? null : (result.notes.find((v) => v.attempt === j + 1)?.verdict ?? null);
  };
  const last = attempt.notes.filter((note) => note.of !== null && !note.isRestart);
  const wrong = attempt.shifted === null ? last.filter((note) => note.off !== 0) : [];
  const right = last.filter((note) => note.off === 0);
  const inTime = right.filter((note) => note.moved === 0);
  const extras = attempt.notes.filter((note) => note.of === null && !note.isRestart);
  const restarts = attempt.notes.filter((note) => note.isRestart);
  const keyMistakes = ['too high', 'too low', 'missed'];
  const extraHeard = result.notes.filter((v) => v.verdict === 'extra');
  const falseExtras = extraHeard.filter((v) => {
    const note = performed[v.attempt! - 1];
    return note === null || (note !== undefined && note.of !== null && !note.isRestart && note.off === 0);
  });
  const missedKeys = attempt.missed.map((i) => attempt.song.target.notes[i]!.midi);
  const falseKeys = right.filter((note) => {
    const { verdict } = byTarget.get(note.of!)!;
    // A missed note's neighbour of the same key may be said to be missed in its place.
    const isNamesake = verdict === 'missed' && missedKeys.includes(note.midi - attempt.transposition);
    return keyMistakes.includes(verdict) && !isNamesake;
  });
  return {
    clean: attempt.clean,
    key: result.transposition === attempt.transposition,
    tempo: Math.abs((result.tempoRatio ?? 0) / attempt.tempoRatio - 1) < TEMPO_SHARE,
    wrong: count(wrong, (note) => byTarget.get(note.of!)!.semitones === note.off),
    missed: count(attempt.missed, (i) => isMissed(result, attempt, i)),
    extra: count(extras, (note) => verdictOf(note) === 'extra'),
    moved: count(
      last.filter((note) => note.moved !== 0),
      (note) => byTarget.get(note.of!)!.verdict === (note.moved > 0 ? 'late' : 'early'),
    ),
    restart: count(restarts, (note) => verdictOf(note) === 'restart'),
    line: count(attempt.shifted === null ? [] : [attempt.shifted], (line) => isOneMistake(result, line)),
    falseKeys: { found: falseKeys.length + falseExtras.length, of: right.length },
    falseTimes: count(inTime, (note) => ['early', 'late', 'short'].includes(byTarget.get(note.of!)!.verdict)),
  };
}

/** A repeated key is missed whichever of its notes is said to be. */
function isMissed(result: Comparison, { song }: Attempt, index: number): boolean {
  const keys = song.target.notes.map((note) => note.midi);
  let first = index;
  while (keys[first - 1] === keys[index]) first--;
  let last = index;
  while (keys[last + 1] === keys[index]) last++;
  return result.notes.some(
    ({ verdict, target }) => verdict === 'missed' && target! - 1 >= first && target! - 1 <= last,
  );
}

/** All but the line's ends, where a right note may stand by chance. */
function isOneMistake({ summary }: Comparison, line: readonly number[]): boolean {
  return summary.mistakes.some(
    ({ kind, notes }) => kind === 'pitch' && line.every((i) => notes.includes(i + 1)),
  );
}

function count<T>(items: readonly T[], isFound: (item: T) => boolean): Counted {
  return { found: items.filter(isFound).length, of: items.length };
}

function nearest(notes: readonly PlayedNote[], start: number): PlayedNote | null {
  const [best] = [...notes].sort((a, b) => Math.abs(a.start - start) - Math.abs(b.start - start));
  return best !== undefined && Math.abs(best.start - start) <= SAME_SECONDS ? best : null;
}
