/** What each thing that is counted adds to the level. */
import type { Feature } from './types.js';

export interface Curve {
  /** The most that it adds. */
  readonly most: number;
  /**
   * Value and share of `most`, values increasing, straight lines between and level beyond. The shares only rise or
   * only fall, so that what is harder never lowers a grade.
   */
  readonly points: readonly (readonly [number, number])[];
}

/**
 * Ten levels: the most of all curves add up to nine. What is counted follows the literature on difficulty (Sébastien
 * et al. 2012; Chiu & Chen 2012: speed, range, leaps, displacement of the hand, altered notes, irregular rhythm, length;
 * Nakamura & Yoshii 2018: notes a second; all from memory). How much each may add is our choice after common practice
 * among teachers: few different notes, held long, come first, then what moves the hand, then rhythm and black keys.
 *
 * Where a curve begins is our choice for a first tune. It ends where the hardest twentieth of pop melodies begins, or
 * beyond it for speed, and lies so that the middle one takes a third to three quarters (POP909, Wang et al. 2020, the
 * songs of even number).
 */
export const CURVES: Readonly<Record<Feature, Curve>> = {
  // Keys.
  'different notes': {
    most: 1.3,
    points: [
      [2, 0],
      [5, 0.25],
      [16, 1],
    ],
  },
  // Share of all notes.
  'commonest note': {
    most: 0.5,
    points: [
      [0.12, 1],
      [0.5, 0],
    ],
  },
  // A second.
  'note changes': {
    most: 1.3,
    points: [
      [0.3, 0],
      [2, 0.75],
      [4, 1],
    ],
  },
  // Seconds.
  'short notes': {
    most: 1.3,
    points: [
      [0.12, 1],
      [0.25, 0.75],
      [0.5, 0.3],
      [1, 0],
    ],
  },
  // Semitones: five keys in a row span 7, the middle of folk songs is 12 (Essen, Europe).
  range: {
    most: 0.8,
    points: [
      [7, 0],
      [24, 1],
    ],
  },
  // Share of the steps.
  leaps: {
    most: 0.7,
    points: [
      [0, 0],
      [0.25, 1],
    ],
  },
  // A minute, within the lines: between them there is time.
  'hand moves': {
    most: 0.9,
    points: [
      [0, 0],
      [24, 1],
    ],
  },
  // Share of the notes. Little: every key of the song is one that a pianist meets.
  'black keys': {
    most: 0.3,
    points: [
      [0, 0],
      [0.85, 1],
    ],
  },
  // Share of the notes.
  'fine rhythm': {
    most: 0.5,
    points: [
      [0, 0],
      [0.5, 1],
    ],
  },
  // Share of the notes.
  syncopation: {
    most: 0.5,
    points: [
      [0, 0],
      [0.3, 1],
    ],
  },
  // Notes.
  'notes to learn': {
    most: 0.9,
    points: [
      [8, 0],
      [130, 0.6],
      [250, 1],
    ],
  },
};

/** Of `most`, where nothing is known: about what the middle one of the even songs has of rhythm. */
const UNKNOWN_SHARE = 1 / 3;

/** What a value adds to the level, 0 to the curve's most. */
export function addedBy(feature: Feature, value: number | null): number {
  const { most, points } = CURVES[feature];
  return most * (value === null ? UNKNOWN_SHARE : shareAt(points, value));
}

function shareAt(points: Curve['points'], value: number): number {
  const next = points.findIndex(([at]) => at >= value);
  if (next === -1) return points.at(-1)![1];
  const [at, share] = points[next]!;
  if (next === 0) return share;
  const [before, shareBefore] = points[next - 1]!;
  return shareBefore + ((share - shareBefore) * (value - before)) / (at - before);
}
