/** Right-hand fingering of a melody. */
import type { Line } from '../rhythm/types.js';
import { repeatsOf } from './alike.js';
import { FINGER_WEIGHTS } from './finger-weights.js';
import { fiveKeyFingers } from './five-keys.js';
import { type FingerWeights, type Merits, meritsOf } from './merits.js';
import { isPlayable } from './rules.js';
import { scaleRunFingers } from './scale-runs.js';
import { bestFingers } from './search.js';
import { type SpanTable, spanTable } from './spans.js';
import { strokesOf } from './strokes.js';
import type { Finger, FingerNote, HandSize, Stroke } from './types.js';

export interface FingeringOptions {
  readonly hand: HandSize;
  /** Lines of the song, so that one that comes again takes the same fingers. */
  readonly lines?: readonly Line[];
  /** Fingers that are settled, one a note, null where open: the rest is worked out around them. */
  readonly fixed?: readonly (Finger | null)[];
  /** Finger of the first note; null: open. */
  readonly fromFinger?: Finger | null;
  /** Fitted weights, other than the program's own. */
  readonly weights?: FingerWeights;
}

/** Against a settled finger nothing counts. */
const SETTLED = 1e6;
/**
 * Leaving the practical span without a rest: more than any detour, so that it is the last resort; a little less for
 * each semitone, so that where the hand must jump it does so at the widest leap.
 */
const LEAP = 1000;
const LEAP_LESS = 10;
const WIDEST_LEAP = 24;
/** The fingers of the handbook in a scale: more than the fitted merits of an octave, less than a leap. */
const HANDBOOK = 20;
/**
 * Another finger on a key that is struck again: sung lines are slow enough to keep it (common practice). Printed
 * piano music changes fingers on fast repeats, and the fit alone would.
 */
const CHANGE_ON_REPEAT = 4;
/** A note of a line that needs no move, by another finger: so much that a thumb on a black key does not outweigh it. */
const ONE_POSITION = 3;
/** Another finger than where the line came before: on the same keys, and on others, where comfort may ask for one. */
const UNLIKE = 4;
const UNLIKE_TRANSPOSED = 1;

/**
 * One finger a note. The whole line is searched at once for the fingers that suit it best by the rules of Parncutt
 * et al. (1997), weighted, and by tables fitted to printed fingerings (finger-weights.ts); scales of an octave and more
 * take the fingers of the handbooks; no two keys in succession lie beyond the practical span of the hand, except
 * across a rest or where there is no other way; lines that come again keep their fingers. Empty for no notes.
 */
export function fingerRightHand(notes: readonly FingerNote[], options: FingeringOptions): Finger[] {
  const lines = options.lines ?? [];
  const settled = settledFingers(notes.length, options);
  const spans = spanTable(options.hand);
  const strokes = strokesOf(notes, lines);
  const merits = meritsOf(strokes, spans, options.weights ?? FINGER_WEIGHTS);
  addLimits(merits, strokes, spans);
  favourAll(merits, fiveKeyFingers(strokes, lines, settled), ONE_POSITION);
  favourAll(merits, scaleRunFingers(strokes, settled), HANDBOOK);
  favourAll(merits, settled, SETTLED);
  const repeats = repeatsOf(strokes, lines);
  let fingers = bestFingers(merits, strokes.length);
  if (repeats.length > 0) {
    for (const { note, of, sameKeys } of repeats) {
      favour(merits, note, fingers[of]! + 1, sameKeys ? UNLIKE : UNLIKE_TRANSPOSED);
    }
    fingers = bestFingers(merits, strokes.length);
  }
  return fingers.map((f) => (f + 1) as Finger);
}

function settledFingers(count: number, { fixed, fromFinger }: FingeringOptions): (Finger | null)[] {
  return Array.from({ length: count }, (_, i) => fixed?.[i] ?? (i === 0 ? (fromFinger ?? null) : null));
}

function favourAll(merits: Merits, fingers: readonly (Finger | null)[], merit: number): void {
  fingers.forEach((finger, i) => {
    if (finger !== null) favour(merits, i, finger, merit);
  });
}

/** Takes merit from all other fingers of note `i`. */
function favour(merits: Merits, i: number, finger: number, merit: number): void {
  for (let f = 0; f < 5; f++) if (f + 1 !== finger) merits.own[5 * i + f]! -= merit;
}

function addLimits(merits: Merits, strokes: readonly Stroke[], spans: SpanTable): void {
  for (let i = 1; i < strokes.length; i++) {
    const [from, to] = [strokes[i - 1]!, strokes[i]!];
    // Across a rest the hand is simply set down anew.
    if (to.afterRest) continue;
    for (let at = 0; at < 25; at++) {
      const [f1, f2] = [Math.floor(at / 5) + 1, (at % 5) + 1];
      if (from.midi === to.midi) {
        if (f1 !== f2) merits.last[25 * i + at]! -= CHANGE_ON_REPEAT;
      } else if (!isPlayable(spans, f1, from.midi, f2, to.midi)) {
        merits.last[25 * i + at]! -= LEAP - LEAP_LESS * Math.min(Math.abs(to.midi - from.midi), WIDEST_LEAP);
      }
    }
  }
}
