import type { MelodyNote } from '../../melody.js';
import { BEAT_TICKS, type WrittenMeter } from './written-meter.js';

/** A note on the grid of ticks; 0 is the start of bar 1. */
export interface WrittenNote {
  readonly note: MelodyNote;
  readonly start: number;
  /** Equal to the start where the next note stands at the same place: it is written as a grace note. */
  readonly end: number;
}

/** Ticks of the parts that a beat may be cut into: quarters of it, or thirds. */
const FOURTH = BEAT_TICKS / 4;
const THIRD = BEAT_TICKS / 3;
/** Thirds are only written where they fit this much better, in beats squared: rounding is no reason. */
const CLEARLY = 1e-4;

/** The melody on the grid, and which beats are cut in three (numbered from the start of bar 1, from 0). */
export interface WrittenLine {
  readonly notes: readonly WrittenNote[];
  readonly thirds: ReadonlySet<number>;
}

/**
 * Puts the places of notes on the grid. For each beat the starts and ends inside it decide whether it is cut
 * in four or in three, by the smaller sum of squared distances; then each start and end goes to the nearest
 * part. Starts never go backwards, and a note ends at the latest where the next one starts, so places that
 * overlap (an edited list, another program's file) are cut there.
 */
export function writtenLine(notes: readonly MelodyNote[], meter: WrittenMeter): WrittenLine {
  const spans = notes.map((note) => {
    const start = (note.bar! - 1) * meter.beatsPerBar + note.beat! - 1;
    return { note, start, end: start + Math.max(note.beats!, 0) };
  });
  const thirds = beatsInThirds(spans.flatMap(({ start, end }) => [start, end]));
  const snapped = (position: number) => {
    const beat = Math.floor(position);
    const part = thirds.has(beat) ? THIRD : FOURTH;
    return beat * BEAT_TICKS + part * Math.round(((position - beat) * BEAT_TICKS) / part);
  };
  const starts: number[] = [];
  for (const { start } of spans) starts.push(Math.max(snapped(start), starts.at(-1) ?? -Infinity));
  const written = spans.map(({ note, end }, index): WrittenNote => {
    const start = starts[index]!;
    const next = starts[index + 1] ?? Number.POSITIVE_INFINITY;
    const shortest = thirds.has(Math.floor(start / BEAT_TICKS)) ? THIRD : FOURTH;
    return { note, start, end: Math.min(Math.max(snapped(end), start + shortest), next) };
  });
  const cut = written.flatMap(({ start, end }) => [start, end]).filter((tick) => tick % FOURTH !== 0);
  return { notes: written, thirds: new Set(cut.map((tick) => Math.floor(tick / BEAT_TICKS))) };
}

function beatsInThirds(positions: readonly number[]): Set<number> {
  const errors = new Map<number, { fourths: number; thirds: number }>();
  for (const position of positions) {
    const beat = Math.floor(position);
    const part = position - beat;
    const error = errors.get(beat) ?? { fourths: 0, thirds: 0 };
    error.fourths += (part - Math.round(part * 4) / 4) ** 2;
    error.thirds += (part - Math.round(part * 3) / 3) ** 2;
    errors.set(beat, error);
  }
  return new Set([...errors].filter(([, e]) => e.thirds + CLEARLY < e.fourths).map(([beat]) => beat));
}
