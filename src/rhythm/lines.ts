/** The lines of a song: what a singer takes in one breath. */
import { boundaryScores, type LineNote } from './boundaries.js';
import { repeatedLine } from './likeness.js';
import type { Line } from './types.js';

/**
 * Preferred number of notes in a line: between the 10 of Temperley's Grouper as shipped (2000) and the mean of
 * 8.4 of the phrases marked in the Essen folk-song collection.
 */
const PREFERRED_NOTES = 9;

/** Spread of line lengths in doublings (standard deviation); the Essen phrases, 5 to 12 notes, spread a little less. */
const SPREAD_DOUBLINGS = 0.65;

/** Longest line that is considered, in notes. */
const MAX_NOTES = 30;

/** Log probability of a line of `count` notes, up to a constant. */
function lengthScore(count: number): number {
  const deviation = Math.log2(count / PREFERRED_NOTES) / SPREAD_DOUBLINGS;
  return (-deviation * deviation) / 2;
}

/** Index of the first note of every line, by the best total of boundary and length scores. */
function lineStarts(notes: readonly LineNote[]): number[] {
  const count = notes.length;
  const boundary = boundaryScores(notes);
  const best = new Float64Array(count + 1).fill(Number.NEGATIVE_INFINITY);
  best[0] = 0;
  const from = new Int32Array(count + 1);
  for (let end = 1; end <= count; end++) {
    const own = end < count ? boundary[end]! : 0;
    for (let start = Math.max(0, end - MAX_NOTES); start < end; start++) {
      const score = best[start]! + lengthScore(end - start) + own;
      if (score > best[end]!) {
        best[end] = score;
        from[end] = start;
      }
    }
  }
  const starts: number[] = [];
  for (let end = count; end > 0; end = from[end]!) starts.push(from[end]!);
  return starts.reverse();
}

/**
 * The lines of a melody, first to last, every note in exactly one. Dynamic programming over line ends, after
 * the Grouper of Temperley (The Cognition of Basic Musical Structures, 2001, ch. 3) without its metre: each
 * boundary brings its evidence, each line a penalty for an unusual number of notes. A line starts and ends
 * with its first and last note; `like` names the earlier line that it repeats, in any key. Notes must be in
 * order of start. Empty for no notes.
 */
export function linesOf(notes: readonly LineNote[]): Line[] {
  return linesFrom(notes, lineStarts(notes));
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
