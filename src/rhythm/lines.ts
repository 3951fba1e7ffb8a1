/** The lines of a song: what a singer takes in one breath. */
import { repeatedLine } from './likeness.js';
import type { Line } from './types.js';

/** A note as far as lines are concerned; times in seconds. */
export interface LineNote {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** Preferred number of notes in a line (Temperley 2001 ships 10; sung phrases of the Essen collection have 8.4 on average). */
const PREFERRED_NOTES = 9;

/** Longest line that is considered, in notes. */
const MAX_NOTES = 28;

/** Weight of the length penalty against gap scores that are 1 on average (600 against 500 in Temperley 2001). */
const LENGTH_WEIGHT = 1.2;

/** A silence this long, in seconds, is a breath: it counts as much as a gap of several mean notes. */
const BREATH_SECONDS = 0.4;

/** What a breath adds to the gap score for every BREATH_SECONDS of silence, up to three of them. */
const BREATH_WEIGHT = 2;

/** Shorter silences belong to the way notes are sung (consonants, staccato) and are no evidence. */
const ARTICULATION_SECONDS = 0.12;

/**
 * How strongly a line may begin at note i (0 < i < n): onset and offset-to-onset interval before it, against
 * the mean onset interval so far, and what a breath adds. −Infinity inside a run of fast notes.
 */
function gapScores(notes: readonly LineNote[]): Float64Array {
  const scores = new Float64Array(notes.length + 1);
  let sum = 0;
  for (let i = 1; i < notes.length; i++) {
    const interval = notes[i]!.start - notes[i - 1]!.start;
    const silence = Math.max(notes[i]!.start - notes[i - 1]!.end - ARTICULATION_SECONDS, 0);
    sum += interval;
    const mean = sum / i;
    const before = i > 1 ? notes[i - 1]!.start - notes[i - 2]!.start : Number.POSITIVE_INFINITY;
    const after = i + 1 < notes.length ? notes[i + 1]!.start - notes[i]!.start : Number.POSITIVE_INFINITY;
    const isInRun = silence === 0 && interval < mean && interval <= 1.1 * before && interval <= 1.1 * after;
    scores[i] = isInRun
      ? Number.NEGATIVE_INFINITY
      : (interval + silence) / mean + BREATH_WEIGHT * Math.min(silence / BREATH_SECONDS, 3);
  }
  return scores;
}

function lineScore(startGap: number, endGap: number, count: number): number {
  const length = LENGTH_WEIGHT * Math.abs(Math.log2(count / PREFERRED_NOTES));
  return ((startGap + endGap) / 2 - length) * Math.sqrt(count);
}

/** Index of the first note of every line. */
function lineStarts(notes: readonly LineNote[]): number[] {
  const n = notes.length;
  const gaps = gapScores(notes);
  // The edges of the recording are as good as the best gap within it.
  const edge = gaps.reduce((a, b) => Math.max(a, b), 1);
  gaps[0] = edge;
  gaps[n] = edge;
  const best = new Float64Array(n + 1).fill(Number.NEGATIVE_INFINITY);
  best[0] = 0;
  const from = new Int32Array(n + 1);
  for (let end = 1; end <= n; end++) {
    for (let start = Math.max(0, end - MAX_NOTES); start < end; start++) {
      const score = best[start]! + lineScore(gaps[start]!, gaps[end]!, end - start);
      if (score > best[end]!) {
        best[end] = score;
        from[end] = start;
      }
    }
  }
  const starts: number[] = [];
  for (let end = n; end > 0; end = from[end]!) starts.unshift(from[end]!);
  return starts;
}

/**
 * The lines of a melody, first to last, every note in exactly one. Dynamic programming after the Grouper of
 * Temperley (The Cognition of Basic Musical Structures, 2001, ch. 3) without its metre. Lines start and end
 * with their first and last note; `like` names the earlier line that a line repeats, in any key. Empty for
 * no notes.
 */
export function linesOf(notes: readonly LineNote[]): Line[] {
  const starts = lineStarts(notes);
  const pitches = starts.map((first, i) =>
    notes.slice(first, starts[i + 1] ?? notes.length).map((n) => n.midi),
  );
  return starts.map((first, i) => {
    const last = (starts[i + 1] ?? notes.length) - 1;
    return {
      start: notes[first]!.start,
      end: notes[last]!.end,
      first: first + 1,
      last: last + 1,
      like: repeatedLine(pitches, i),
    };
  });
}
