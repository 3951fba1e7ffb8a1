/** Comparing an attempt with a target: what goes in and what comes out. */
import type { Note } from '../../notes/types.js';

/** A note to compare. */
export interface SideNote extends Note {
  /** Spelt, ASCII with octave: `Bb4`. */
  readonly name: string;
  /** Number of its line, from 1. */
  readonly line: number;
}

/** The target, or the attempt. A Melody is one, but for `heard`. */
export interface Side {
  readonly notes: readonly SideNote[];
  /** Cents above A4 = 440 Hz. */
  readonly tuningCents: number;
  /** Whether the notes were heard in a recording, and may be misheard. */
  readonly heard: boolean;
}

export interface CompareOptions {
  /** Only the target's own key counts, in any octave. */
  readonly sameKey: boolean;
  /** Number of the target's line that was attempted; null: all of them. */
  readonly line: number | null;
}

/**
 * `short`: let go long before its end. `restart`: belongs to a try that broke off, or to an earlier time through;
 * the last time counts. `unsure`: heard in the attempt, but it may well not be there.
 */
export type Verdict =
  | 'right'
  | 'too high'
  | 'too low'
  | 'early'
  | 'late'
  | 'short'
  | 'missed'
  | 'extra'
  | 'restart'
  | 'unsure';

export interface NoteVerdict {
  /** Note number in the target, from 1; null where the attempt's note answers none. */
  readonly target: number | null;
  /** Note number in the attempt, from 1; null for what was missed. */
  readonly attempt: number | null;
  readonly verdict: Verdict;
  /** Of a `restart`, the note number of the target that it tried, if any; else null. */
  readonly tried: number | null;
  /** Keys too high (positive) or too low, after the transposition; 0 when right. */
  readonly semitones: number;
  /** The same in cents as it sounded; 0 when right. */
  readonly cents: number;
  /** Seconds late (positive) or early, beside the attempt's own tempo; 0 where nothing is known of it. */
  readonly seconds: number;
  /** Right by the likelier reading of a doubtful note: "probably right". */
  readonly probable: boolean;
  /** Cents from the target's key as it sounded, whatever the verdict; null where the attempt was not heard. */
  readonly sung: number | null;
}

/** One mistake, however many notes it takes: a line that lies a step too high is one. */
export interface Mistake {
  /** `unplayed`: a whole line that is missing, where others were played. */
  readonly kind: 'pitch' | 'unplayed' | 'missed' | 'extra' | 'restart' | 'time' | 'short';
  /** Note numbers of the target, from 1, in order; of an extra note, the note before it. */
  readonly notes: readonly number[];
  /** Line of the target, from 1; null where it spreads over several. */
  readonly line: number | null;
  /** A sentence without its full stop, for people. */
  readonly words: string;
}

export interface LineResult {
  /** From 1. */
  readonly line: number;
  /** Notes of the target in it. */
  readonly notes: number;
  /** Those that are right, or probably right. */
  readonly right: number;
  /** Every note of it is right. */
  readonly safe: boolean;
}

export interface Comparison {
  /** Attempt minus target, semitones. */
  readonly transposition: number;
  /** Tempo of the attempt over that of the target; null where no two notes tell. */
  readonly tempoRatio: number | null;
  /** In the attempt's order, what was missed at its place in the target. */
  readonly notes: readonly NoteVerdict[];
  /** 0..1; see `scoreOf`. */
  readonly score: number;
  readonly summary: {
    readonly lines: readonly LineResult[];
    /** Worst first. */
    readonly mistakes: readonly Mistake[];
    /** Number of the target's note to look at first; null where there is nothing to mend. */
    readonly lookFirst: number | null;
  };
}
