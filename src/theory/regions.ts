/** Where a melody changes its key: a last chorus a step up. */
import { pitchClassOf, type ScaleEvidence } from './key-features.js';
import { KOSTKA_PAYNE_MAJOR, KOSTKA_PAYNE_MINOR } from './profiles.js';
import { type HarmonyEvidence, rankScales } from './scales.js';
import type { Key, RankedScale } from './types.js';

/** Notes in one key, with the ranking of its scales; numbers inside the ranking count from the melody's first note. */
export interface KeyRegion {
  /** Number of its first note, from 1. */
  readonly first: number;
  /** Number of its last note, from 1. */
  readonly last: number;
  /** Best first. */
  readonly scales: readonly RankedScale[];
}

/**
 * What a change of key costs, in units of log probability: a note outside the key costs two to three more than one
 * inside it. Chosen on every second of the pop melodies with their last third moved up (tests/evaluate/keys).
 */
const CHANGE_COST = 14;

/** Semitones from a minor tonic up to the tonic of its relative major. */
const TO_RELATIVE_MAJOR = 3;

/**
 * Log probability of a note by its semitones above the major tonic, in a key signature whose tonic may be the major or
 * the relative minor one: the mean of the two profiles of Temperley 2007, brought to a sum of 1.
 */
function signatureLogs(): Float64Array {
  const both = Float64Array.from(KOSTKA_PAYNE_MAJOR, (weight, degree) => {
    const minorDegree = (degree + TO_RELATIVE_MAJOR) % 12;
    return (weight + KOSTKA_PAYNE_MINOR[minorDegree]!) / 2;
  });
  const sum = both.reduce((a, b) => a + b, 0);
  return both.map((weight) => Math.log(weight / sum));
}

/** The likeliest signature of every line: Viterbi over the twelve, a change costing CHANGE_COST. */
function signatures(lines: readonly (readonly ScaleEvidence[])[]): number[] {
  const logs = signatureLogs();
  let best = new Float64Array(12);
  const from: Int8Array[] = [];
  for (const line of lines) {
    const leader = best.indexOf(Math.max(...best));
    const came = Int8Array.from(best, (score, k) => (best[leader]! - CHANGE_COST > score ? leader : k));
    from.push(came);
    best = best.map((_, tonic) => {
      const before = best[came[tonic]!]! - (came[tonic] === tonic ? 0 : CHANGE_COST);
      return line.reduce(
        (sum, { midi, confidence }) => sum + confidence * logs[pitchClassOf(midi - tonic)]!,
        before,
      );
    });
  }
  const path: number[] = [];
  let at = best.indexOf(Math.max(...best));
  for (let i = lines.length - 1; i >= 0; i--) {
    path.unshift(at);
    at = from[i]![at]!;
  }
  return path;
}

/** The notes cut after every line end. */
function linesIn(notes: readonly ScaleEvidence[]): ScaleEvidence[][] {
  const lines: ScaleEvidence[][] = [[]];
  notes.forEach((note, i) => {
    lines.at(-1)!.push(note);
    if (note.lineEnd && i < notes.length - 1) lines.push([]);
  });
  return lines.filter((line) => line.length > 0);
}

function counted(scale: RankedScale, before: number): RankedScale {
  const later = (numbers: readonly number[]) => numbers.map((number) => number + before);
  return {
    ...scale,
    decidersAt: scale.decidersAt.map((at) => ({ ...at, numbers: later(at.numbers) })),
    outsideAt: scale.outsideAt.map((at) => ({
      ...at,
      numbers: later(at.numbers),
      doubtful: later(at.doubtful),
    })),
  };
}

/**
 * The regions of a melody that keep one key signature, in order, each with its own ranking; one for most songs, none
 * without notes. A change may come where a line begins, and must explain the notes after it so much better that it pays
 * its cost (dynamic programming over the twelve signatures). A change from a major key to its relative minor keeps
 * the signature and makes no region.
 * @param most scales that are kept of each
 */
export function keyRegions(notes: readonly ScaleEvidence[], most?: number): KeyRegion[] {
  const lines = linesIn(notes);
  const path = signatures(lines);
  const regions: ScaleEvidence[][] = [];
  lines.forEach((line, i) => {
    if (i > 0 && path[i] === path[i - 1]) regions.at(-1)!.push(...line);
    else regions.push([...line]);
  });
  let before = 0;
  return regions.map((own) => {
    const offset = before;
    before += own.length;
    return {
      first: offset + 1,
      last: before,
      scales: rankScales(own, undefined, null, undefined, most).map((scale) => counted(scale, offset)),
    };
  });
}

/**
 * The ranking that stands for a whole melody: that of all its notes, or where it changes its key that of the region that
 * sounds longest, since the notes of two keys together look like a third.
 * @param regions of the same notes
 * @param most scales that are kept
 */
export function mainScales(
  notes: readonly ScaleEvidence[],
  regions: readonly KeyRegion[],
  given: Key | null,
  harmony: HarmonyEvidence | null,
  most?: number,
): readonly RankedScale[] {
  if (given !== null || regions.length < 2) {
    return rankScales(notes, given ?? undefined, harmony, undefined, most);
  }
  const seconds = ({ first, last }: KeyRegion) =>
    notes.slice(first - 1, last).reduce((sum, { weight }) => sum + weight, 0);
  return regions.reduce((longest, own) => (seconds(own) > seconds(longest) ? own : longest)).scales;
}
