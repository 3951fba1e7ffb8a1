/** The lines of a song: what a singer takes in one breath. */

import type { Line, WrittenNotes } from '../types.js';
import { boundaryScores } from './boundaries.js';
import { clockOf, type LineClock, type LineNote } from './clock.js';
import { bestDivision } from './division.js';
import { clamp } from './evidence.js';
import { barsScore, lengthScore, remembered } from './lengths.js';
import { repeatedLine } from './likeness.js';
import { stanzaShare } from './weights.js';

/** A tune sung once is a stanza of about four lines, five where many are short; only in longer songs do lines grow. */
const LINES_OF_STANZA = { bars: 4, notes: 5 } as const;

/**
 * Preferred notes in a line without bars: between the 10 of Temperley's Grouper as shipped (2000) and the mean
 * of 8.4 of the phrases marked in the Essen folk-song collection; in songs of several stanzas up to the second.
 */
const PREFERRED_NOTES = { least: 9, most: 14 } as const;

/** Spread of line lengths in doublings (standard deviation); the Essen phrases, 5 to 12 notes, spread a little less. */
const SPREAD_DOUBLINGS = { notes: 0.65, bars: 0.7 } as const;

/** Longest line that is considered, in notes: without bars, and with them, where quick syllables are many. */
const MOST_NOTES = { free: 30, written: 80 } as const;

/** Preferred bars of a line: two in a tune of eight bars, four in one of sixteen or more. */
const PREFERRED_BARS = { least: 2, most: 4 } as const;

/** Log odds that two, four or eight bars, or another even number, have over an odd number. */
const EVEN_BARS = { power: 1.5, even: 0.3 } as const;

/**
 * In songs lines are finer than the marked phrases that the evidence was fitted to, by this many log odds; set on the
 * even songs of that set, for two lines to a phrase. The second figure is for every doubling by which the
 * preferred line is shorter than four bars. The lines of a stanza are those its evidence was fitted to, or a little
 * longer, as song books print them (by hand on traditional tunes).
 */
const FINER = { base: 2.5, doubling: 1, stanza: -0.1 } as const;

/** Score of a line of some bars. */
function lineBarsScore(bars: number, preferred: number): number {
  const isPower = bars === 2 || bars === 4 || bars === 8;
  const even = isPower ? EVEN_BARS.power : bars % 2 === 0 ? EVEN_BARS.even : 0;
  return lengthScore(bars, preferred, SPREAD_DOUBLINGS.bars) + even;
}

/** Index of the first note of every line, by the best total of boundary and length scores. */
function lineStarts(notes: readonly LineNote[], written: WrittenNotes | null): number[] {
  const boundary = boundaryScores(notes, written);
  const clock = clockOf(notes, written);
  const { bar } = clock;
  if (bar !== null) return startsInBars(boundary, clock, bar);
  const preferred = clamp(notes.length / LINES_OF_STANZA.notes, PREFERRED_NOTES.least, PREFERRED_NOTES.most);
  return bestDivision(
    notes.length,
    MOST_NOTES.free,
    (from, to) => boundary[from]! + lengthScore(to - from, preferred, SPREAD_DOUBLINGS.notes),
  );
}

function startsInBars(boundary: Float64Array, clock: LineClock, bar: number): number[] {
  const length = (clock.end - (clock.onsets[0] ?? 0)) / bar;
  const preferred = clamp(length / LINES_OF_STANZA.bars, PREFERRED_BARS.least, PREFERRED_BARS.most);
  const songFiner = FINER.base + FINER.doubling * Math.log2(PREFERRED_BARS.most / preferred);
  const stanza = stanzaShare(boundary.length);
  const finer = (1 - stanza) * songFiner + stanza * FINER.stanza;
  const score = remembered((bars) => lineBarsScore(bars, preferred));
  return bestDivision(
    boundary.length,
    MOST_NOTES.written,
    (from, to) => (from > 0 ? boundary[from]! + finer : 0) + barsScore(clock, bar, from, to, score),
  );
}

/**
 * The lines of a melody, first to last, every note in exactly one. Dynamic programming over line ends, after
 * the Grouper of Temperley (The Cognition of Basic Musical Structures, 2001, ch. 3): each boundary brings its
 * evidence (boundaries.ts), each line a penalty for an unusual length, in bars where the notes are written and
 * in notes where they are not. A line starts and ends with its first and last note; `like` names the earlier
 * line that it repeats, in any key. Notes must be in order of start. Empty for no notes.
 *
 * @param written bars and beats of the notes, or null where no beat is known
 */
export function linesOf(notes: readonly LineNote[], written: WrittenNotes | null = null): Line[] {
  return linesFrom(notes, lineStarts(notes, written));
}

/**
 * The lines that start at given notes, as marked by a person.
 *
 * @param starts indices from 0 of the first note of every line, in order, the first one 0
 */
export function linesFrom(notes: readonly LineNote[], starts: readonly number[]): Line[] {
  const lines = starts.map((first, i) => notes.slice(first, starts[i + 1] ?? notes.length));
  const pitches = lines.map((line) => line.map((note) => note.midi));
  return lines.map((line, i) => ({
    start: line[0]!.start,
    end: line.at(-1)!.end,
    first: starts[i]! + 1,
    last: starts[i]! + line.length,
    like: repeatedLine(pitches, i),
  }));
}
