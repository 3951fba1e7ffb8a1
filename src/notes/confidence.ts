/** What is known of a note when its confidence is judged. */
export interface NoteEvidence {
  /** Probability of its key among the keys. */
  readonly keyProbability: number;
  /** The tracker's evidence that a note starts where it starts, 0..1. */
  readonly onset: number;
  /** Mean probability that a note lasts over its frames, 0..1. */
  readonly sounding: number;
  readonly seconds: number;
  /** Half the range of the middle half of its pitch, semitones. */
  readonly spreadSemitones: number;
}

/** Weights of the logistic model; see docs/measured.md for the data it was fitted on and how well it holds. */
const WEIGHTS = {
  constant: -1.06,
  key: 0.82,
  onset: 0.63,
  sounding: 0.41,
  length: 0.42,
  spread: -3.29,
};

/**
 * Probability 0..1 that a note with this evidence is really there with this key: a logistic regression, fitted
 * so that of the notes marked 0.9 nine in ten are right.
 */
export function confidenceOf(e: NoteEvidence): number {
  const z =
    WEIGHTS.constant +
    WEIGHTS.key * logOdds(e.keyProbability) +
    WEIGHTS.onset * logOdds(e.onset) +
    WEIGHTS.sounding * logOdds(e.sounding) +
    WEIGHTS.length * Math.log(e.seconds) +
    WEIGHTS.spread * e.spreadSemitones;
  return 1 / (1 + Math.exp(-z));
}

function logOdds(probability: number): number {
  const p = Math.min(0.98, Math.max(0.02, probability));
  return Math.log(p / (1 - p));
}
