/**
 * Whether a confidence means something: of the notes marked 0.9, nine in ten should be right.
 *
 * Every heard note makes a claim. It is right when a note of the reference, of one's own, begins within 100 ms
 * (the window of MIREX 2020, singing transcription: sung onsets are hard to label) and lies within 50 cents of
 * its key, the recording's tuning taken out. So a note that is not there at all is wrong as well.
 */
import { matchNotes, type ScoredNote } from './note-scores.js';

/** What was claimed of one note, and whether it held. */
export interface Claim {
  /** Probability 0..1. */
  readonly confidence: number;
  readonly right: boolean;
}

/** The claims of one interval of confidence. */
export interface CalibrationBin {
  /** The interval is from (included)… */
  readonly from: number;
  /** …to (not included, but for the last). */
  readonly to: number;
  readonly count: number;
  /** Mean confidence of the claims; 0 of none. */
  readonly confidence: number;
  /** Share of the claims that held; 0 of none. */
  readonly right: number;
}

/** A heard note: its pitch as sung, its key, its confidence. */
export interface ClaimingNote extends ScoredNote {
  readonly midi: number;
  readonly confidence: number;
}

/** Seconds that the onset of a right note may be off. */
const ONSET_SECONDS = 0.1;

/**
 * One claim for every estimated note.
 *
 * @param tuningCents how far the recording lies above A4 = 440 Hz, as the estimate says
 */
export function claimsOf(
  reference: readonly ScoredNote[],
  estimate: readonly ClaimingNote[],
  tuningCents: number,
): Claim[] {
  const keys = estimate.map((note) => ({ ...note, pitch: note.midi + tuningCents / 100 }));
  const right = new Set(matchNotes(reference, keys, 'onset+pitch', ONSET_SECONDS).map((p) => p.estimate));
  return estimate.map(({ confidence }, i) => ({ confidence, right: right.has(i) }));
}

/** Claims sorted into `binCount` intervals of equal width. */
export function calibrationTable(claims: readonly Claim[], binCount = 10): CalibrationBin[] {
  return Array.from({ length: binCount }, (_, bin) => {
    const inside = claims.filter((c) => Math.min(Math.floor(c.confidence * binCount), binCount - 1) === bin);
    const mean = (of: (c: Claim) => number) =>
      inside.length === 0 ? 0 : inside.reduce((sum, c) => sum + of(c), 0) / inside.length;
    return {
      from: bin / binCount,
      to: (bin + 1) / binCount,
      count: inside.length,
      confidence: mean((c) => c.confidence),
      right: mean((c) => (c.right ? 1 : 0)),
    };
  });
}

/**
 * Expected calibration error (Naeini, Cooper & Hauskrecht, AAAI 2015): mean over the claims of the distance
 * between the mean confidence and the share right of their bin. 0 of no claims.
 */
export function expectedCalibrationError(table: readonly CalibrationBin[]): number {
  const total = table.reduce((sum, bin) => sum + bin.count, 0);
  if (total === 0) return 0;
  return table.reduce((sum, bin) => sum + (bin.count / total) * Math.abs(bin.confidence - bin.right), 0);
}
