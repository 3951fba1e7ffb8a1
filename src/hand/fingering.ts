/** Right-hand fingering of a melody. */
import type { Line } from '../rhythm/types.js';
import { repeatsOf } from './alike.js';
import { FINGER_WEIGHTS } from './finger-weights.js';
import { fiveKeyFingers } from './five-keys.js';
import { addLimits } from './limits.js';
import { type FingerWeights, type Merits, meritsOf } from './merits.js';
import { scaleRunFingers } from './scale-runs.js';
import { bestFingers } from './search.js';
import { spanTable } from './spans.js';
import { strokesOf } from './strokes.js';
import type { Finger, FingerNote, HandSize } from './types.js';

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
/** The fingers of the handbook in a scale: more than the fitted merits of an octave, less than a leap. */
const HANDBOOK = 20;
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
    // A line may repeat one that repeats another: all take the fingers of the first.
    const models = [...fingers];
    for (const { note, of, sameKeys } of repeats) {
      models[note] = models[of]!;
      favour(merits, note, models[note] + 1, sameKeys ? UNLIKE : UNLIKE_TRANSPOSED);
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
