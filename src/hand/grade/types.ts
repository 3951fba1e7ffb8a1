/** How hard a melody is for a beginner's right hand. */

/** What is counted, each in the unit that its words name. */
export const FEATURES = [
  'different notes',
  'commonest note',
  'note changes',
  'short notes',
  'range',
  'leaps',
  'hand moves',
  'black keys',
  'fine rhythm',
  'syncopation',
  'notes to learn',
] as const;

export type Feature = (typeof FEATURES)[number];

/** One of the sums that make the level. */
export interface GradePart {
  readonly what: Feature;
  /** What was counted; null where it is not known, as rhythm is without a beat. */
  readonly value: number | null;
  /** What it adds to the level. */
  readonly adds: number;
}

export interface Grade {
  /** 1 (easiest) to 10, to a tenth. */
  readonly level: number;
  /** In words with their numbers, what adds most first. */
  readonly reasons: readonly string[];
  /** The same as numbers, in the same order: the level is 1 and what they add. */
  readonly parts: readonly GradePart[];
}
