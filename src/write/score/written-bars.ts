/** Notes on the grid → bars of note values, rests and ties. */
import { BEAT_TICKS, type WrittenMeter } from './written-meter.js';
import type { WrittenLine, WrittenNote } from './written-notes.js';
import { type NoteValue, noteSpans, noteValue, restSpans, type Span } from './written-values.js';

/** One note value, or rest, of a bar. Ticks count from the start of bar 1. */
export interface Piece extends Span {
  /** Null for a rest. */
  readonly written: WrittenNote | null;
  /** Null for a rest that fills a bar. A grace note, of no length, has the value of an eighth. */
  readonly value: NoteValue | null;
  /** It is tied to the piece before it, or to the one after it. */
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
  /** It belongs to a beat cut in three. */
  readonly third: boolean;
}

export interface Bar {
  /** From 1; a pickup is 0 or less. */
  readonly number: number;
  /** Ticks; a pickup starts with its first note. */
  readonly start: number;
  readonly end: number;
  readonly pieces: readonly Piece[];
}

/** A stretch of time with one note, or none. */
interface Stretch extends Span {
  readonly written: WrittenNote | null;
}

/**
 * The bars from the first to that of the last note, without gaps: bar 1 comes first, or a pickup that starts
 * with the first note. Notes are cut at bar lines, at the edges of beats cut in three, and where
 * written-values.ts says; the parts are tied. A note of no length becomes a grace note.
 */
export function writtenBars({ notes, thirds }: WrittenLine, meter: WrittenMeter): Bar[] {
  const { barTicks } = meter;
  const first = notes[0]!.start;
  const firstBeat = Math.floor(first / BEAT_TICKS);
  const pickup = thirds.has(firstBeat) ? firstBeat * BEAT_TICKS : first;
  const from = Math.min(0, pickup);
  const last = notes.at(-1)!.end;
  const barCount = Math.ceil(last / barTicks) - Math.floor(from / barTicks);
  const bars = Array.from({ length: barCount }, (_, index) => {
    const start = (Math.floor(from / barTicks) + index) * barTicks;
    return { number: start / barTicks + 1, start: Math.max(start, from), end: start + barTicks };
  });
  const stretches = fill(notes, from, bars.at(-1)!.end);
  let at = 0;
  const written: Bar[] = [];
  for (const bar of bars) {
    const pieces: Piece[] = [];
    while (at < stretches.length && stretches[at]!.end <= bar.start && stretches[at]!.start < bar.start) at++;
    for (let i = at; i < stretches.length && stretches[i]!.start < bar.end; i++) {
      pieces.push(...piecesOf(stretches[i]!, bar, thirds, meter));
    }
    written.push({ ...bar, pieces });
  }
  return written;
}

/** The notes and the silences between them, from one tick to another. */
function fill(notes: readonly WrittenNote[], from: number, to: number): Stretch[] {
  const stretches: Stretch[] = [];
  let at = from;
  for (const written of notes) {
    if (written.start > at) stretches.push({ start: at, end: written.start, written: null });
    stretches.push({ start: written.start, end: written.end, written });
    at = written.end;
  }
  if (to > at) stretches.push({ start: at, end: to, written: null });
  return stretches;
}

/** What of a stretch lies in a bar, as pieces. */
function piecesOf(stretch: Stretch, bar: Span, thirds: ReadonlySet<number>, meter: WrittenMeter): Piece[] {
  const { written } = stretch;
  const start = Math.max(stretch.start, bar.start);
  const end = Math.min(stretch.end, bar.end);
  const base = { written, tiedFrom: false, tiedTo: false, third: false };
  if (stretch.start === stretch.end) return [{ ...base, start, end, value: { type: 'eighth', dots: 0 } }];
  if (end <= start) return [];
  if (written === null && start === bar.start && end === bar.end)
    return [{ ...base, start, end, value: null }];
  const origin = Math.floor(start / meter.barTicks) * meter.barTicks;
  const pieces: Piece[] = [];
  const add = (from: number, to: number, third: boolean) =>
    pieces.push({
      written,
      start: from,
      end: to,
      // Three thirds stand in the place of two halves: each looks half as long again as it lasts.
      value: noteValue((to - from) * (third ? 1.5 : 1), meter),
      tiedFrom: written !== null && from > stretch.start,
      tiedTo: written !== null && to < stretch.end,
      third,
    });
  for (const part of cutAtThirds({ start, end }, thirds)) {
    if (part.third) {
      for (const span of thirdSpans(part, written === null)) add(span.start, span.end, true);
      continue;
    }
    const inBar = { start: part.start - origin, end: part.end - origin };
    const cut = written === null ? restSpans(inBar, meter) : noteSpans(inBar, meter);
    for (const span of cut) add(span.start + origin, span.end + origin, false);
  }
  return pieces;
}

/** Cut at the edges of beats that are cut in three, so that each part lies inside one or outside all. */
function cutAtThirds({ start, end }: Span, thirds: ReadonlySet<number>): (Span & { third: boolean })[] {
  const parts: (Span & { third: boolean })[] = [];
  for (let at = start; at < end; ) {
    const beat = Math.floor(at / BEAT_TICKS);
    const third = thirds.has(beat);
    let edge = beat + 1;
    while (!third && !thirds.has(edge) && edge * BEAT_TICKS < end) edge++;
    const to = Math.min(end, edge * BEAT_TICKS);
    parts.push({ start: at, end: to, third });
    at = to;
  }
  return parts;
}

/** Two thirds are one note; a rest of two is one only at the start of the beat. */
function thirdSpans({ start, end }: Span, isRest: boolean): Span[] {
  const third = BEAT_TICKS / 3;
  if (!isRest || end - start === third || start % BEAT_TICKS === 0) return [{ start, end }];
  return [
    { start, end: start + third },
    { start: start + third, end },
  ];
}
