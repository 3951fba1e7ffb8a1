/** How alike two stretches of a song are, in any key. */
import type { LineClock } from '../lines/clock.js';

/** The notes of a stretch as they are compared. */
export interface Stretch {
  readonly pitches: readonly number[];
  /** Doublings of the onset interval after each note against the median one. */
  readonly lengths: readonly number[];
}

/** Onset intervals count as equal within this many doublings: words that differ change a few. */
const SAME_DOUBLINGS = 0.6;

/** What a note of the same pitch with another length counts, against 1 for the same length. */
const PITCH_SHARE = 0.5;

/** How many transpositions are tried. */
const TRANSPOSITIONS = 3;

/** The notes `from`..`to` − 1 of a song. */
export function stretchOf(pitches: readonly number[], clock: LineClock, from: number, to: number): Stretch {
  const lengths = Array.from({ length: to - from }, (_, i) => {
    const next = clock.intervals[from + i + 1];
    return next === undefined ? 0 : Math.log2(next / clock.unit);
  });
  return { pitches: pitches.slice(from, to), lengths };
}

/** How often each pitch is there. */
function histogram({ pitches }: Stretch): Map<number, number> {
  const counts = new Map<number, number>();
  for (const pitch of pitches) counts.set(pitch, (counts.get(pitch) ?? 0) + 1);
  return counts;
}

/** The moves in semitones from a to b that bring most notes together, the best first; the nearest of equals. */
function likelyMoves(a: Stretch, b: Stretch): number[] {
  const ours = histogram(a);
  const theirs = histogram(b);
  const merits = new Map<number, number>();
  for (const [p, n] of ours) {
    for (const [q, m] of theirs) merits.set(q - p, (merits.get(q - p) ?? 0) + n * m);
  }
  return [...merits]
    .sort((x, y) => y[1] - x[1] || Math.abs(x[0]) - Math.abs(y[0]) || x[0] - y[0])
    .slice(0, TRANSPOSITIONS)
    .map(([move]) => move);
}

/** Largest sum of agreeing notes in order: the longest common subsequence, where a note with another length counts less. */
function agreeing(a: Stretch, b: Stretch, move: number): number {
  const columns = b.pitches.length;
  let row = new Float64Array(columns + 1);
  let next = new Float64Array(columns + 1);
  for (let i = 0; i < a.pitches.length; i++) {
    const pitch = a.pitches[i]! + move;
    for (let j = 0; j < columns; j++) {
      let best = Math.max(row[j + 1]!, next[j]!);
      if (b.pitches[j] === pitch) {
        const isSame = Math.abs(a.lengths[i]! - b.lengths[j]!) < SAME_DOUBLINGS;
        best = Math.max(best, row[j]! + (isSame ? 1 : PITCH_SHARE));
      }
      next[j + 1] = best;
    }
    [row, next] = [next, row];
  }
  return row[columns]!;
}

/**
 * 0..1: share of the notes of the longer that agree in order, in pitch and in length, at the transposition that suits
 * best; 1 for the same music in any key.
 */
export function likeness(a: Stretch, b: Stretch): number {
  const total = Math.max(a.pitches.length, b.pitches.length);
  if (a.pitches.length === 0 || b.pitches.length === 0) return 0;
  const most = Math.max(...likelyMoves(a, b).map((move) => agreeing(a, b, move)));
  return most / total;
}

/**
 * A group for every stretch, numbered from 0 by first appearance: that of the earlier stretch it is most like, if
 * at least `least`, else a new one.
 */
export function groupAlike(stretches: readonly Stretch[], least: number): number[] {
  const groups: number[] = [];
  let count = 0;
  stretches.forEach((stretch, i) => {
    let best = least;
    let group = -1;
    for (let j = 0; j < i; j++) {
      const own = likeness(stretches[j]!, stretch);
      if (own > best || (own === best && group < 0)) {
        best = own;
        group = groups[j]!;
      }
    }
    groups.push(group < 0 ? count++ : group);
  });
  return groups;
}
