/** Published boundary models, for comparison: each gives the indices of the notes that begin a phrase. */
import type { LineNote } from '../../../src/rhythm/lines/clock.js';

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

/** Note 0 and every note for which `begins` holds. */
function startsWhere(notes: readonly LineNote[], begins: (index: number) => boolean): number[] {
  return notes.flatMap((_, i) => (i === 0 || begins(i) ? [i] : []));
}

const onsetInterval = (notes: readonly LineNote[], i: number): number =>
  notes[i]!.start - notes[i - 1]!.start;
const restBefore = (notes: readonly LineNote[], i: number): number =>
  Math.max(notes[i]!.start - notes[i - 1]!.end, 0);

/** A phrase begins after every rest of at least `beats` beats of `beatSeconds` (Lerdahl & Jackendoff 1983, GPR 2a). */
export function startsByRests(notes: readonly LineNote[], beatSeconds: number, beats: number): number[] {
  return startsWhere(notes, (i) => restBefore(notes, i) > (beats - 0.01) * beatSeconds);
}

/** A phrase begins after every onset interval, note and rest together, of at least `beats` beats. */
export function startsByRestsAndLongNotes(
  notes: readonly LineNote[],
  beatSeconds: number,
  beats: number,
): number[] {
  return startsWhere(notes, (i) => onsetInterval(notes, i) > (beats - 0.01) * beatSeconds);
}

/** x·(change before + change after), scaled to a largest value of 1 (Cambouropoulos 2001, section 3). */
function strengths(x: readonly number[]): number[] {
  const change = x.slice(1).map((next, i) => {
    const sum = x[i]! + next;
    return sum === 0 ? 0 : Math.abs(next - x[i]!) / (sum + 1e-6);
  });
  const raw = x.map((value, i) => value * ((change[i - 1] ?? 0) + (change[i] ?? 0)));
  const most = Math.max(...raw, 0);
  return most > 0.1 ? raw.map((value) => value / most) : raw;
}

/**
 * Local boundary detection model (Cambouropoulos, ICMC 2001): 0.25 pitch + 0.5 onset interval + 0.25 rest, each
 * weighed by how much it differs from its neighbours. A phrase begins at every peak of the profile above its
 * mean by `deviations` standard deviations. Times in beats, so that rests and intervals are of order 1.
 */
export function startsByLbdm(notes: readonly LineNote[], beatSeconds: number, deviations: number): number[] {
  const pitch = strengths(notes.slice(1).map((note, i) => Math.abs(note.midi - notes[i]!.midi)));
  const interval = strengths(notes.slice(1).map((_, i) => onsetInterval(notes, i + 1) / beatSeconds));
  const rest = strengths(notes.slice(1).map((_, i) => restBefore(notes, i + 1) / beatSeconds));
  const profile = interval.map((value, i) => 0.25 * pitch[i]! + 0.5 * value + 0.25 * rest[i]!);
  const mean = meanOf(profile);
  const deviation = Math.sqrt(meanOf(profile.map((v) => (v - mean) ** 2)));
  return startsWhere(notes, (i) => {
    const own = profile[i - 1]!;
    return own > mean + deviations * deviation && own >= (profile[i - 2] ?? 0) && own >= (profile[i] ?? 0);
  });
}

/** Longest group of Grouper in notes, its preferred one, and what a doubling away from that costs. */
const GROUPER = { most: 19, notes: 10, doubling: 600, gap: 500, phase: 300, halfPhase: 150 } as const;

/**
 * Grouper (Temperley, The Cognition of Basic Musical Structures, 2001, ch. 3), with the constants of the program
 * of 2000: half the gaps at either end, less a penalty for the number of notes and one for a start elsewhere in
 * the bar than the last group's, times the root of the number of notes.
 *
 * @param preferred notes of a preferred group; 10 as published
 * @param phases place of every note in its bar, 0..1, or null for no metre
 */
export function startsByGrouper(
  notes: readonly LineNote[],
  preferred: number = GROUPER.notes,
  phases: readonly number[] | null = null,
): number[] {
  const count = notes.length;
  const gaps = new Float64Array(count + 1);
  let sum = 0;
  for (let i = 1; i < count; i++) {
    sum += onsetInterval(notes, i);
    const off = notes[i]!.start - notes[i - 1]!.end;
    gaps[i] = (GROUPER.gap * (onsetInterval(notes, i) + off)) / (sum / i);
  }
  const longest = Math.round(GROUPER.most * (preferred / GROUPER.notes));
  const best = new Float64Array(count + 1).fill(Number.NEGATIVE_INFINITY);
  best[0] = 0;
  const from = new Int32Array(count + 1);
  for (let end = 1; end <= count; end++) {
    for (let start = Math.max(0, end - longest); start < end; start++) {
      const size = end - start;
      const penalty = GROUPER.doubling * Math.abs(Math.log2(size / preferred));
      const phase = start > 0 && phases !== null ? phasePenalty(phases, from[start]!, start) : 0;
      const own = (gaps[start]! / 2 + gaps[end]! / 2 - penalty - phase) * Math.sqrt(size);
      if (best[start]! + own > best[end]!) {
        best[end] = best[start]! + own;
        from[end] = start;
      }
    }
  }
  const starts: number[] = [];
  for (let end = count; end > 0; end = from[end]!) starts.push(from[end]!);
  return starts.reverse();
}

function phasePenalty(phases: readonly number[], last: number, own: number): number {
  const difference = Math.abs(phases[last]! - phases[own]!);
  if (difference < 1e-6) return 0;
  return Math.abs(difference - 0.5) < 1e-6 ? GROUPER.halfPhase : GROUPER.phase;
}
