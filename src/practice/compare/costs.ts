import type { SideNote } from './types.js';

/**
 * What the alignment pays, in units of one plainly wrong note; chosen on half a of the attempts of
 * `npm run evaluate -- DIR --only compare`.
 */
export const COSTS = {
  /** A note of the attempt that answers none of the target. */
  extra: 0.9,
  /** The same of a dip, and a dip that answers a note of another key. */
  extraDip: 0.25,
  dip: 0.35,
  /** A note of the target that is left out between two that are played. */
  missed: 0.9,
  /** A note of the target that is left out at either end or in a jump forward. */
  skipped: 0.45,
  /** A jump forward; this and what it leaves out. */
  forward: 1.6,
  /** A jump back, and what comes to it where nobody paused before or it lands within a line. */
  back: 1.25,
  unpaused: 0.5,
  midLine: 0.1,
  /** A pause is a step from note to note this many times as long as the middle one. */
  pause: 1.6,
} as const;

/** A wrong key, and more for each semitone that it is off, up to FURTHEST. */
const WRONG = 0.62;
const WRONG_A_SEMITONE = 0.04;
const FURTHEST = 9;
/** A wrong key that is off by what the one before it was off, and by a semitone more or less: a step of the scale. */
const SHIFTED = 0.3;
const SHIFTED_NEARLY = 0.36;
/** The right key in the wrong octave. */
const OCTAVE = 0.6;
/** A wrong key where a doubtful note's other key would be right. */
const OTHER = 0.15;

/** @param off semitones, not 0; `doubtful`: a doubtful note's other key would be right */
export function pitchCost(off: number, doubtful: boolean): number {
  if (doubtful) return OTHER;
  if (Math.abs(off) === 12) return OCTAVE;
  return WRONG + WRONG_A_SEMITONE * Math.min(FURTHEST, Math.abs(off));
}

/** The same behind an answer that was itself off by `offBefore`; infinite where the two are not off alike. */
export function shiftedCost(off: number, offBefore: number): number {
  if (off === offBefore) return SHIFTED;
  return off * offBefore > 0 && Math.abs(off - offBefore) === 1 ? SHIFTED_NEARLY : Number.POSITIVE_INFINITY;
}

/** Whether the keys agree when one of the two is read as its next likeliest key. */
export function isOther(attempt: SideNote, target: SideNote, transposition: number): boolean {
  return (
    (attempt.other !== null && attempt.other === target.midi + transposition) ||
    (target.other !== null && target.other === attempt.midi - transposition)
  );
}

/**
 * Seconds that are always allowed, and a share of the step; past it, the most a step may cost, and the most where a
 * note was left out or put in, since some players leave its time out too and some stop to think.
 */
const FREE_SECONDS = 0.12;
const FREE_SHARE = 0.4;
const TIME_WEIGHT = 0.6;
const DEAREST_STEP = 0.8;
const DEAREST_BROKEN_STEP = 0.35;

/** A step from answer to answer that lasts `played` seconds in place of `expected`; `broken`: with others between. */
export function timeCost(played: number, expected: number, broken: boolean): number {
  const off = Math.abs(played - expected);
  const dearest = broken ? DEAREST_BROKEN_STEP : DEAREST_STEP;
  return Math.min(dearest, (TIME_WEIGHT * off) / (FREE_SECONDS + FREE_SHARE * expected));
}
