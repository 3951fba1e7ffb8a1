/**
 * What the fitted part of the fingering looks at: each template sorts what is around a note into one of a few
 * classes, and has a table of weights over the fingers for each class.
 */
import { isBlack, keyboardPlace } from './keyboard.js';
import type { Stroke } from './types.js';

/** Whose fingers a table is over: this note's, with the last one's, with the one before that, with both. */
export type Over = 'own' | 'last' | 'skip' | 'both';

/** Weights of a class. */
export const TABLE_SIZE: Readonly<Record<Over, number>> = { own: 5, last: 25, skip: 25, both: 125 };

export interface Template {
  readonly over: Over;
  readonly classes: number;
  /** Class of note `i`, from 0. */
  readonly of: (strokes: readonly Stroke[], i: number) => number;
}

/** Beyond a ninth all leaps are alike; in half widths of a white key. */
const FARTHEST = 16;

function clipped(value: number, most: number): number {
  return Math.max(-most, Math.min(most, value));
}

/** 0 down, 1 repeated, 2 up. */
function direction(from: Stroke, to: Stroke): number {
  return Math.sign(to.midi - from.midi) + 1;
}

/** Whether the hand goes from note `i` to note `j` without a rest; false where there is no such note. */
function isJoined(strokes: readonly Stroke[], i: number, j: number): boolean {
  if (strokes[j] === undefined) return false;
  for (let k = Math.min(i, j) + 1; k <= Math.max(i, j); k++) if (strokes[k]!.afterRest) return false;
  return true;
}

/**
 * The way to another note: 0 none before the next rest, 1..4 down by a leap, a fourth or fifth, a third, a step, 5 none,
 * 6..9 up likewise.
 */
function reachClass(strokes: readonly Stroke[], i: number, j: number): number {
  if (!isJoined(strokes, i, j)) return 0;
  const far = strokes[j]!.midi - strokes[i]!.midi;
  const size = Math.abs(far);
  const grade = size === 0 ? 0 : size <= 2 ? 1 : size <= 4 ? 2 : size <= 7 ? 3 : 4;
  return 5 + Math.sign(far) * grade;
}

/** Notes on either side in which the range of the line is looked at. */
const AROUND = 4;

/**
 * How many white keys the line goes over (`sign` 1) or under (−1) note `i` among the notes around it between rests; 5
 * for all beyond the hand.
 */
function rangeClass(strokes: readonly Stroke[], i: number, sign: 1 | -1): number {
  const here = keyboardPlace(strokes[i]!.midi);
  let far = 0;
  for (const way of [-1, 1]) {
    for (let k = 1; k <= AROUND && isJoined(strokes, i + way * (k - 1), i + way * k); k++) {
      far = Math.max(far, sign * (keyboardPlace(strokes[i + way * k]!.midi) - here));
    }
  }
  const whites = Math.ceil(far / 2);
  return whites <= 4 ? whites : 5;
}

const black = (stroke: Stroke): number => (isBlack(stroke.midi) ? 1 : 0);

export const TEMPLATES = {
  near: {
    over: 'own',
    classes: 100,
    of: (s, i) => 10 * reachClass(s, i, i - 1) + reachClass(s, i, i + 1),
  },
  next: {
    over: 'own',
    classes: 100,
    of: (s, i) => 10 * reachClass(s, i, i + 1) + reachClass(s, i, i + 2),
  },
  around: {
    over: 'own',
    classes: 36,
    of: (s, i) => 6 * rangeClass(s, i, 1) + rangeClass(s, i, -1),
  },
  start: { over: 'own', classes: 2, of: (s, i) => (i === 0 || s[i]!.afterRest ? 1 : 0) },
  steps: {
    over: 'last',
    classes: 12,
    of: (s, i) => 4 * direction(s[i - 1]!, s[i]!) + 2 * black(s[i - 1]!) + black(s[i]!),
  },
  width: {
    over: 'last',
    classes: 2 * FARTHEST + 1,
    of: (s, i) => FARTHEST + clipped(keyboardPlace(s[i]!.midi) - keyboardPlace(s[i - 1]!.midi), FARTHEST),
  },
  skip: {
    over: 'skip',
    classes: 2 * FARTHEST + 1,
    of: (s, i) => FARTHEST + clipped(keyboardPlace(s[i]!.midi) - keyboardPlace(s[i - 2]!.midi), FARTHEST),
  },
  shape: {
    over: 'both',
    classes: 9,
    of: (s, i) => 3 * direction(s[i - 2]!, s[i - 1]!) + direction(s[i - 1]!, s[i]!),
  },
} as const satisfies Readonly<Record<string, Template>>;

export type TemplateName = keyof typeof TEMPLATES;

export const TEMPLATE_NAMES = Object.keys(TEMPLATES) as TemplateName[];
