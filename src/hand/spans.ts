/**
 * How far two fingers of the right hand reach, in semitones from the lower-numbered finger to the higher, positive
 * when the higher-numbered finger plays the higher key.
 * Parncutt, Sloboda, Clarke, Raekallio & Desain, "An ergonomic model of keyboard fingering for melodic
 * fragments", Music Perception 14(4), 1997, table 1.
 */
import type { Finger, HandSize } from './types.js';

/** Spans of a pair of fingers in semitones: practical limits, comfortable limits, relaxed range. */
export interface Span {
  readonly minPrac: number;
  readonly minComf: number;
  readonly minRel: number;
  readonly maxRel: number;
  readonly maxComf: number;
  readonly maxPrac: number;
}

/** Rows of table 1: fingers, MinPrac, MinComf, MinRel, MaxRel, MaxComf, MaxPrac. */
const TABLE: readonly (readonly [Finger, Finger, number, number, number, number, number, number])[] = [
  [1, 2, -5, -3, 1, 5, 8, 10],
  [1, 3, -4, -2, 3, 7, 10, 12],
  [1, 4, -3, -1, 5, 9, 12, 14],
  [1, 5, -1, 1, 7, 10, 13, 15],
  [2, 3, 1, 1, 1, 2, 3, 5],
  [2, 4, 1, 1, 3, 4, 5, 7],
  [2, 5, 2, 2, 5, 6, 8, 10],
  [3, 4, 1, 1, 1, 2, 2, 4],
  [3, 5, 1, 1, 3, 4, 5, 7],
  [4, 5, 1, 1, 1, 2, 3, 5],
];

/**
 * Semitones added to the greatest practical and comfortable spans. The published table is for a medium hand;
 * a semitone either way for a small or large one is this project's own setting (a medium hand reaches an
 * octave with thumb and middle finger at its limit, a small one does not).
 */
const REACH: Record<HandSize, number> = { small: -1, medium: 0, large: 1 };

const SAME_FINGER: Span = { minPrac: 0, minComf: 0, minRel: 0, maxRel: 0, maxComf: 0, maxPrac: 0 };

/** Reads the span of a pair, `lower` ≤ `higher` finger number. One finger spans nothing. */
export type SpanTable = (lower: number, higher: number) => Span;

/** The span table for a hand, the same one every time. The comfortable span never falls below the relaxed one. */
export function spanTable(hand: HandSize): SpanTable {
  const table = made.get(hand) ?? makeSpanTable(hand);
  made.set(hand, table);
  return table;
}

const made = new Map<HandSize, SpanTable>();

function makeSpanTable(hand: HandSize): SpanTable {
  const reach = REACH[hand];
  const spans = Array.from({ length: 36 }, () => SAME_FINGER);
  for (const [lower, higher, minPrac, minComf, minRel, maxRel, maxComf, maxPrac] of TABLE) {
    spans[lower * 6 + higher] = {
      minPrac,
      minComf,
      minRel,
      maxRel,
      maxComf: Math.max(maxComf + reach, maxRel),
      maxPrac: maxPrac + reach,
    };
  }
  return (lower, higher) => spans[lower * 6 + higher]!;
}
