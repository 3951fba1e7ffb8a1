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
  // Start and end of each note, by turns.
  const places: number[] = [];
  for (const { bar, beat, beats } of notes) {
    const start = (bar! - 1) * meter.beatsPerBar + beat! - 1;
    places.push(start, start + Math.max(beats!, 0));
  }
  const thirds = beatsInThirds(places);
  const starts: number[] = [];
  for (let i = 0; i < places.length; i += 2) {
    starts.push(Math.max(snapped(places[i]!, thirds), starts.at(-1) ?? Number.NEGATIVE_INFINITY));
  }
  const written: WrittenNote[] = [];
  const cut = new Set<number>();
  for (const [i, note] of notes.entries()) {
    const start = starts[i]!;
    const next = starts[i + 1] ?? Number.POSITIVE_INFINITY;
    const shortest = thirds.has(Math.floor(start / BEAT_TICKS)) ? THIRD : FOURTH;
    const end = Math.min(Math.max(snapped(places[2 * i + 1]!, thirds), start + shortest), next);
    written.push({ note, start, end });
    if (start % FOURTH !== 0) cut.add(Math.floor(start / BEAT_TICKS));
    if (end % FOURTH !== 0) cut.add(Math.floor(end / BEAT_TICKS));
  }
  return { notes: written, thirds: cut };
}

/** The tick nearest to a place, among the parts that its beat is cut into. */
function snapped(position: number, thirds: ReadonlySet<number>): number {
  const beat = Math.floor(position);
  const part = thirds.has(beat) ? THIRD : FOURTH;
  return beat * BEAT_TICKS + part * Math.round(((position - beat) * BEAT_TICKS) / part);
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
