/**
 * What a fingering costs: the twelve rules of Parncutt et al. (Music Perception 14(4), 1997), for the right
 * hand. Points are the published ones. Pitches are MIDI numbers, fingers 1..5.
 * Repeats of a key are not part of the rules.
 */
import type { Span, SpanTable } from './spans.js';

const BLACK = new Set([1, 3, 6, 8, 10]);

/** Whether a MIDI number is a black key. */
function isBlack(midi: number): boolean {
  return BLACK.has(((midi % 12) + 12) % 12);
}

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

/** Rules 1 to 3: stretch, small span, large span of two successive notes. */
export function spanCost(spans: SpanTable, f1: number, m1: number, f2: number, m2: number): number {
  const { span, distance } = reach(spans, f1, m1, f2, m2);
  const perSemitone = f1 === 1 || f2 === 1 ? 1 : 2;
  return (
    2 * excess(distance, span.minComf, span.maxComf) +
    perSemitone * excess(distance, span.minRel, span.maxRel)
  );
}

/** Rules 4 and 5: count and size of the change of position that three successive notes ask for. */
export function positionCost(
  spans: SpanTable,
  f1: number,
  m1: number,
  f2: number,
  m2: number,
  f3: number,
  m3: number,
): number {
  const { span, distance } = reach(spans, f1, m1, f3, m3);
  const size = excess(distance, span.minComf, span.maxComf);
  if (size === 0) return 0;
  const isBetween = (m1 < m2 && m2 < m3) || (m1 > m2 && m2 > m3);
  return (f2 === 1 && isBetween ? 2 : 1) + size;
}

/** Rules 6, 10 and 11: weak finger, thumb on black, five on black; neighbours null at the ends. */
export function fingerCost(
  finger: number,
  midi: number,
  before: number | null,
  after: number | null,
): number {
  let cost = finger >= 4 ? 1 : 0;
  if ((finger === 1 || finger === 5) && isBlack(midi)) {
    if (finger === 1) cost += 1;
    if (before !== null && !isBlack(before)) cost += 2;
    if (after !== null && !isBlack(after)) cost += 2;
  }
  return cost;
}

/** Rule 7: the fingers 3, 4 and 5 in succession, in any order. */
export function threeFourFiveCost(f1: number, f2: number, f3: number): number {
  return f1 !== f2 && f2 !== f3 && f1 !== f3 && f1 >= 3 && f2 >= 3 && f3 >= 3 ? 1 : 0;
}

/** Rules 8, 9 and 12: three to four, four on black beside three on white, passing the thumb. */
export function pairCost(f1: number, m1: number, f2: number, m2: number): number {
  let cost = 0;
  if (f1 === 3 && f2 === 4) cost += 1;
  if (f1 === 3 && f2 === 4 && !isBlack(m1) && isBlack(m2)) cost += 1;
  if (f1 === 4 && f2 === 3 && isBlack(m1) && !isBlack(m2)) cost += 1;
  return cost + thumbPassCost(f1, m1, f2, m2);
}

function thumbPassCost(f1: number, m1: number, f2: number, m2: number): number {
  if ((f1 === 1) === (f2 === 1)) return 0;
  const thumb = f1 === 1 ? m1 : m2;
  const other = f1 === 1 ? m2 : m1;
  if (thumb <= other) return 0;
  if (isBlack(thumb) === isBlack(other)) return 1;
  return isBlack(thumb) ? 3 : 0;
}
