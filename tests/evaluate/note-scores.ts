/**
 * How well heard notes agree with the notes of a reference (Molina, Barbancho, Tardón & Barbancho, ISMIR 2014;
 * the conventions are those of mir_eval.transcription).
 *
 * Conventions: times in seconds, pitch in fractional MIDI numbers as sung (tuning not taken out), scores 0..1.
 * COn: onset right. COnP: onset and pitch right. COnPOff: onset, pitch and offset right.
 *
 * Differences from mir_eval 0.8, and where each pushes the score:
 * 1. pitch differences, not only time differences, are rounded to 4 decimals (of a cent) before they are
 *    compared with the limit: a note exactly 50 cents off always counts (up, by a hair; there it depends on
 *    the rounding of two logarithms);
 * 2. where both lists are empty the scores are 0, as in mir_eval (down: nothing to find and nothing found).
 */
import { maximumMatching, type Pair } from './matching.js';

/** What is scored of a note. */
export interface ScoredNote {
  /** Seconds. */
  readonly start: number;
  /** Seconds. */
  readonly end: number;
  /** Fractional MIDI number. */
  readonly pitch: number;
}

/** Seconds an onset may be off, limit included. */
export const ONSET_TOLERANCE_SECONDS = 0.05;
/** Cents a pitch may be off, limit included. */
export const PITCH_TOLERANCE_CENTS = 50;
/** Share of the reference note's length that an offset may be off, limit included… */
export const OFFSET_TOLERANCE_RATIO = 0.2;
/** …but at least so many seconds. */
export const OFFSET_TOLERANCE_SECONDS = 0.05;

/** What has to agree for two notes to match. */
export type Criterion = 'onset' | 'onset+pitch' | 'onset+pitch+offset';

export interface Score {
  /** Share of the estimated notes that are matched. */
  readonly precision: number;
  /** Share of the reference notes that are matched. */
  readonly recall: number;
  /** Harmonic mean of the two, 0 where both are 0. */
  readonly f: number;
}

export interface NoteScores {
  readonly con: Score;
  readonly conp: Score;
  readonly conpoff: Score;
}

/** Rounds to 4 decimals, so that a difference of exactly the limit is not lost to binary fractions. */
function round4(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}

function agree(
  reference: ScoredNote,
  estimate: ScoredNote,
  criterion: Criterion,
  onsetSeconds: number,
): boolean {
  if (round4(Math.abs(reference.start - estimate.start)) > onsetSeconds) return false;
  if (criterion === 'onset') return true;
  const cents = 100 * Math.abs(reference.pitch - estimate.pitch);
  if (round4(cents) > PITCH_TOLERANCE_CENTS) return false;
  if (criterion === 'onset+pitch') return true;
  const length = reference.end - reference.start;
  const allowed = Math.max(OFFSET_TOLERANCE_RATIO * length, OFFSET_TOLERANCE_SECONDS);
  return round4(Math.abs(reference.end - estimate.end)) <= allowed;
}

/** Largest one-to-one set of pairs of notes that agree by the criterion, onsets up to `onsetSeconds` apart. */
export function matchNotes(
  reference: readonly ScoredNote[],
  estimate: readonly ScoredNote[],
  criterion: Criterion,
  onsetSeconds = ONSET_TOLERANCE_SECONDS,
): Pair[] {
  const candidates = reference.map((r) =>
    estimate.flatMap((e, index) => (agree(r, e, criterion, onsetSeconds) ? [index] : [])),
  );
  return maximumMatching(candidates, estimate.length);
}

function score(matched: number, referenceCount: number, estimateCount: number): Score {
  if (matched === 0) return { precision: 0, recall: 0, f: 0 };
  const precision = matched / estimateCount;
  const recall = matched / referenceCount;
  return {
    precision,
    recall,
    f: (2 * precision * recall) / (precision + recall),
  };
}

/** COn, COnP and COnPOff of an estimate; each is matched anew, as the largest set differs by criterion. */
export function scoreNotes(reference: readonly ScoredNote[], estimate: readonly ScoredNote[]): NoteScores {
  const by = (criterion: Criterion) =>
    score(matchNotes(reference, estimate, criterion).length, reference.length, estimate.length);
  return {
    con: by('onset'),
    conp: by('onset+pitch'),
    conpoff: by('onset+pitch+offset'),
  };
}

/** Median of the values, the mean of the middle two for an even number; null of none. */
export function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/**
 * Median of estimate − reference pitch in semitones over the notes matched by onset alone: how far the two
 * scales of pitch lie apart. 0 where no onset matches.
 */
export function medianPitchDifference(
  reference: readonly ScoredNote[],
  estimate: readonly ScoredNote[],
): number {
  const pairs = matchNotes(reference, estimate, 'onset');
  return median(pairs.map((p) => estimate[p.estimate]!.pitch - reference[p.reference]!.pitch)) ?? 0;
}

/** The estimate moved by a number of semitones. */
export function shiftPitch(estimate: readonly ScoredNote[], semitones: number): ScoredNote[] {
  return estimate.map((n) => ({
    start: n.start,
    end: n.end,
    pitch: n.pitch + semitones,
  }));
}
