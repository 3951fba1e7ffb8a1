/**
 * What a fingering costs: the twelve rules of Parncutt et al. (Music Perception 14(4), 1997), for the right
 * hand. Points are the published ones, each rule by itself so that its weight can be fitted. Keys are MIDI
 * numbers, fingers 1..5. Repeats of a key are not part of the rules.
 */
import { isBlack } from './keyboard.js';
import type { Span, SpanTable } from './spans.js';

/** Rules 6, 10 and 11, of one finger. */
export const FINGER_RULES = ['weak', 'thumbOnBlack', 'fiveOnBlack'] as const;
/** Rules 1 to 3, 8, 9 and 12, of two fingers in succession. */
export const PAIR_RULES = [
  'stretch',
  'smallSpan',
  'largeSpan',
  'threeToFour',
  'fourOnBlack',
  'thumbPassing',
] as const;
/** Rules 4, 5 and 7, of three fingers in succession. */
export const TURN_RULES = ['changeCount', 'changeSize', 'threeFourFive'] as const;

export type RuleName =
  | (typeof FINGER_RULES)[number]
  | (typeof PAIR_RULES)[number]
  | (typeof TURN_RULES)[number];

/** The span of two fingers and the signed distance between their keys, seen from the lower finger number. */
function reach(
  spans: SpanTable,
  f1: number,
  m1: number,
  f2: number,
  m2: number,
): { span: Span; distance: number } {
  return f1 <= f2 ? { span: spans(f1, f2), distance: m2 - m1 } : { span: spans(f2, f1), distance: m1 - m2 };
}

/** Semitones by which `distance` leaves the range. */
function excess(distance: number, min: number, max: number): number {
  return Math.max(distance - max, min - distance, 0);
}

/** Whether the pair is within the hand's practical limits; one finger cannot play two different keys in succession. */
export function isPlayable(spans: SpanTable, f1: number, m1: number, f2: number, m2: number): boolean {
  const { span, distance } = reach(spans, f1, m1, f2, m2);
  return distance >= span.minPrac && distance <= span.maxPrac;
}

/** Points by PAIR_RULES of finger `f1` on key `m1`, then `f2` on `m2`, another key. */
export function pairPoints(spans: SpanTable, f1: number, m1: number, f2: number, m2: number): number[] {
  const { span, distance } = reach(spans, f1, m1, f2, m2);
  const perSemitone = f1 === 1 || f2 === 1 ? 1 : 2;
  return [
    2 * excess(distance, span.minComf, span.maxComf),
    perSemitone * Math.max(span.minRel - distance, 0),
    perSemitone * Math.max(distance - span.maxRel, 0),
    f1 === 3 && f2 === 4 ? 1 : 0,
    fourOnBlack(f1, m1, f2, m2) ? 1 : 0,
    thumbPassing(f1, m1, f2, m2),
  ];
}

/** Points by TURN_RULES of three successive notes. */
export function turnPoints(
  spans: SpanTable,
  f1: number,
  m1: number,
  f2: number,
  m2: number,
  f3: number,
  m3: number,
): number[] {
  const { span, distance } = reach(spans, f1, m1, f3, m3);
  const size = excess(distance, span.minComf, span.maxComf);
  const isBetween = (m1 < m2 && m2 < m3) || (m1 > m2 && m2 > m3);
  const isFull = f2 === 1 && isBetween;
  const allWeak = f1 !== f2 && f2 !== f3 && f1 !== f3 && f1 >= 3 && f2 >= 3 && f3 >= 3;
  return [size === 0 ? 0 : isFull ? 2 : 1, size, allWeak ? 1 : 0];
}

/** Points by FINGER_RULES; the keys before and after are null at the ends. */
export function fingerPoints(
  finger: number,
  midi: number,
  before: number | null,
  after: number | null,
): number[] {
  const fromWhite = before !== null && !isBlack(before) ? 2 : 0;
  const toWhite = after !== null && !isBlack(after) ? 2 : 0;
  return [
    finger >= 4 ? 1 : 0,
    finger === 1 && isBlack(midi) ? 1 + fromWhite + toWhite : 0,
    finger === 5 && isBlack(midi) ? fromWhite + toWhite : 0,
  ];
}

/** Rule 9: three and four side by side, three on white and four on black. */
function fourOnBlack(f1: number, m1: number, f2: number, m2: number): boolean {
  return (
    (f1 === 3 && f2 === 4 && !isBlack(m1) && isBlack(m2)) ||
    (f1 === 4 && f2 === 3 && isBlack(m1) && !isBlack(m2))
  );
}

function thumbPassing(f1: number, m1: number, f2: number, m2: number): number {
  if ((f1 === 1) === (f2 === 1)) return 0;
  const thumb = f1 === 1 ? m1 : m2;
  const other = f1 === 1 ? m2 : m1;
  if (thumb <= other) return 0;
  if (isBlack(thumb) === isBlack(other)) return 1;
  return isBlack(thumb) ? 3 : 0;
}
