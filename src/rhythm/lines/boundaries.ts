/** How strongly a line may begin at each note: long notes, breaths, leaps, and the return of what was sung before. */

import type { WrittenNotes } from '../types.js';
import { clockOf, type LineClock, type LineNote } from './clock.js';
import { type BoundaryEvidence, boundaryEvidence, clamp, INTERVAL_DOUBLINGS } from './evidence.js';
import { findRepeats, type Repeats } from './repeats.js';
import { type BarWeights, SONG, STANZA, stanzaShare } from './weights.js';

/**
 * What the evidence weighs where no beat is known, in units of log odds; set by hand on traditional tunes and pop
 * melodies with marked phrases.
 */
const FREE_WEIGHTS = {
  /** Per doubling of the onset interval against the median one. */
  interval: 1.5,
  /** A whole breath. */
  breath: 2,
  /** A pattern of eight notes or more that starts here and elsewhere. */
  repeat: 2,
  /** What a note must show before it is likelier to begin a line than not. */
  doubt: -2.5,
} as const;

/**
 * Silence, in mean onset intervals, that is a whole breath beyond the second figure (about 0.6 s in songs);
 * shorter ones count in proportion. Up to the second figure they belong to consonants and detached singing.
 */
const BREATH = { whole: 1.1, none: 0.22 } as const;

/** Onset intervals up to this share of the mean one, in a row and without a silence, are a run that no breath divides. */
const RUN_SHARE = 0.55;

/**
 * Log odds of a beginning inside a run: low enough to lose against any other place, finite so that a run
 * longer than the longest line can still be divided.
 */
const WITHIN_RUN = -50;

/** Onset intervals are equal within this factor. */
const EQUAL = 1.1;

/** Silence before note i as a share of a whole breath, 0..1, by the clock of the performance. */
function breathBefore(notes: readonly LineNote[], i: number, meanSeconds: number): number {
  const silence = (notes[i]!.start - notes[i - 1]!.end) / meanSeconds;
  return clamp((silence - BREATH.none) / BREATH.whole, 0, 1);
}

/** Whether note i is one of a row of fast ones. */
function isWithinRun(i: number, { intervals, mean }: LineClock): boolean {
  const interval = intervals[i]!;
  const before = i > 1 ? intervals[i - 1]! : Number.POSITIVE_INFINITY;
  const after = intervals[i + 1] ?? Number.POSITIVE_INFINITY;
  return interval <= RUN_SHARE * mean && interval <= EQUAL * Math.min(before, after);
}

/** The score of note i without bars. */
function freeScore(i: number, clock: LineClock, repeats: Repeats, breath: number): number {
  if (breath === 0 && isWithinRun(i, clock)) return WITHIN_RUN;
  const doublings = Math.log2(clock.intervals[i]! / clock.unit);
  return (
    FREE_WEIGHTS.interval * clamp(doublings, INTERVAL_DOUBLINGS.least, INTERVAL_DOUBLINGS.most) +
    FREE_WEIGHTS.breath * breath +
    FREE_WEIGHTS.repeat * repeats.begin[i]! +
    FREE_WEIGHTS.doubt
  );
}

/** A logistic model of the evidence in written music. */
function writtenScore(evidence: BoundaryEvidence, breath: number, model: BarWeights): number {
  let score = model.bias + model.breath * breath;
  for (const [name, weight] of Object.entries(model.weights)) {
    score += weight * evidence[name as keyof BoundaryEvidence];
  }
  return score;
}

/**
 * Log odds that a line begins at each note, from note 1 on (note 0 begins one in any case, and reads 0). With
 * written bars: a logistic model of the evidence in evidence.ts, fitted to phrases marked by hand, and for few notes to
 * lines of folk songs (weights.ts). Without: the onset interval and the silence before it (the gap of Temperley, The Cognition of
 * Basic Musical Structures, 2001, ch. 3), and the return of an earlier pattern of pitches and durations; inside a
 * run of fast notes a beginning is all but ruled out. Everything is measured by the median onset interval, so that
 * neither key nor tempo matters. Time grows with the number of notes, up to a thousand steps a note.
 */
export function boundaryScores(
  notes: readonly LineNote[],
  written: WrittenNotes | null = null,
): Float64Array {
  const scores = new Float64Array(notes.length);
  if (notes.length < 2) return scores;
  const pitches = notes.map((note) => note.midi);
  const played = clockOf(notes, null);
  const clock = clockOf(notes, written);
  const breaths = notes.map((_, i) => (i === 0 ? 0 : breathBefore(notes, i, played.mean)));
  if (clock.bar === null) {
    const repeats = findRepeats(pitches, played);
    return scores.map((_, i) => (i === 0 ? 0 : freeScore(i, played, repeats, breaths[i]!)));
  }
  const stanza = stanzaShare(notes.length);
  const evidence = boundaryEvidence(pitches, clock, clock.bar);
  for (let i = 1; i < notes.length; i++) {
    const [own, breath] = [evidence[i]!, breaths[i]!];
    scores[i] = (1 - stanza) * writtenScore(own, breath, SONG) + stanza * writtenScore(own, breath, STANZA);
  }
  return scores;
}
