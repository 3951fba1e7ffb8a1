/** One octave of the keyboard with the notes of a scale on it, as SVG. */
import { nameParts } from '../../theory/tonal-tables.js';
import type { ScaleCandidate } from '../../theory/types.js';

/**
 * Millimetres of a real keyboard, in a third of their size: a white key is 23.5 wide, a black one 13.7 (common
 * practice).
 */
const WHITE = 8;
const HEIGHT = 34;
const BLACK = 4.8;
const BLACK_HEIGHT = 21;
const WHITE_CLASSES = [0, 2, 4, 5, 7, 9, 11];
/** Black keys, by pitch class, and the boundary of white keys that they stand on. */
const BLACK_KEYS: readonly (readonly [pitchClass: number, boundary: number])[] = [
  [1, 1],
  [3, 2],
  [6, 4],
  [8, 5],
  [10, 6],
];

/**
 * Keys from C to B. Notes of the scale have a dot with their name under it or on it, the tonic a ring; notes sung
 * outside the scale a cross. `words` is the text alternative.
 */
export function scaleKeyboard(scale: ScaleCandidate, words: string, shown: (name: string) => string): string {
  const names = new Map(scale.notes.map((name) => [nameParts(name)!.pitchClass, name]));
  const outside = new Set(scale.outside.map((name) => nameParts(name)!.pitchClass));
  const tonic = nameParts(scale.tonic)!.pitchClass;
  const marks = { names, outside, tonic };
  let keys = '';
  for (const [i, pitchClass] of WHITE_CLASSES.entries()) {
    const middle = i * WHITE + WHITE / 2;
    keys += `<rect class="white" x="${i * WHITE}" y="0" width="${WHITE}" height="${HEIGHT}"/>${mark(marks, pitchClass, middle, HEIGHT - 5)}${label(names.get(pitchClass), shown, middle, HEIGHT + 5)}`;
  }
  for (const [pitchClass, boundary] of BLACK_KEYS) {
    const middle = boundary * WHITE;
    keys += `<rect class="black" x="${middle - BLACK / 2}" y="0" width="${BLACK}" height="${BLACK_HEIGHT}"/><g class="on-black">${mark(marks, pitchClass, middle, BLACK_HEIGHT - 4)}</g>${label(names.get(pitchClass), shown, middle, -2)}`;
  }
  return `<svg class="keyboard" role="img" aria-label="${words}" viewBox="-1 -7 ${7 * WHITE + 2} ${HEIGHT + 15}">${keys}</svg>`;
}

interface Marks {
  /** Names of the notes of the scale, by pitch class. */
  readonly names: ReadonlyMap<number, string>;
  readonly outside: ReadonlySet<number>;
  readonly tonic: number;
}

function mark({ names, outside, tonic }: Marks, pitchClass: number, x: number, y: number): string {
  if (names.has(pitchClass)) {
    const ring = pitchClass === tonic ? `<circle class="ring" cx="${x}" cy="${y}" r="2.9"/>` : '';
    return `${ring}<circle class="dot" cx="${x}" cy="${y}" r="1.9"/>`;
  }
  return outside.has(pitchClass)
    ? `<path class="cross" d="M${x - 1.4} ${y - 1.4}l2.8 2.8m0 -2.8l-2.8 2.8"/>`
    : '';
}

function label(name: string | undefined, shown: (name: string) => string, x: number, y: number): string {
  return name === undefined ? '' : `<text x="${x}" y="${y}">${shown(name)}</text>`;
}
