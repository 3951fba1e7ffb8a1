/** Right-hand fingering of a melody by the least total effort. */
import { fingerCost, isPlayable, pairCost, positionCost, spanCost, threeFourFiveCost } from './rules.js';
import { type SpanTable, spanTable } from './spans.js';
import type { Finger, HandSize } from './types.js';

/** A key to be played; times in seconds. */
export interface FingerNote {
  readonly midi: number;
  readonly start: number;
  readonly end: number;
}

/** A silence at least this long, in seconds, lets the hand move on its own (about a beat at 100 a minute). */
const REST_SECONDS = 0.6;

/** Share of the span and position costs that is left across a rest (the later, thirteenth rule lowers them; the factor is this project's). */
const REST_SHARE = 0.25;

/** Cost of leaving the practical span without a rest: more than any legal detour, so that it is the last resort. */
const LEAP_COST = 1000;

const FINGERS: readonly Finger[] = [1, 2, 3, 4, 5];

/** Immediate repeats of a key are one stroke for the search: they keep their finger. */
interface Stroke {
  readonly midi: number;
  readonly count: number;
  /** Whether a rest lies before it. */
  readonly afterRest: boolean;
}

function strokesOf(notes: readonly FingerNote[]): Stroke[] {
  const strokes: { midi: number; count: number; afterRest: boolean }[] = [];
  notes.forEach((note, i) => {
    const before = notes[i - 1];
    const afterRest = before !== undefined && note.start - before.end >= REST_SECONDS;
    const last = strokes.at(-1);
    if (last !== undefined && last.midi === note.midi && !afterRest) last.count += 1;
    else strokes.push({ midi: note.midi, count: 1, afterRest });
  });
  return strokes;
}

/** Cost of one note after another: rules 1–3, 8, 9, 12, and the leap. */
function stepCost(spans: SpanTable, f1: number, from: Stroke, f2: number, to: Stroke): number {
  const share = to.afterRest ? REST_SHARE : 1;
  if (!isPlayable(spans, f1, from.midi, f2, to.midi)) {
    // Across a rest the hand is simply set down anew.
    return to.afterRest ? 1 : LEAP_COST;
  }
  return share * spanCost(spans, f1, from.midi, f2, to.midi) + share * pairCost(f1, from.midi, f2, to.midi);
}

/** Cost that three notes have together: rules 4, 5, 7; none where the hand moved on its own between them. */
function turnCost(
  spans: SpanTable,
  f1: number,
  a: Stroke,
  f2: number,
  b: Stroke,
  f3: number,
  c: Stroke,
): number {
  if (!isPlayable(spans, f1, a.midi, f2, b.midi) || !isPlayable(spans, f2, b.midi, f3, c.midi)) return 0;
  const share = b.afterRest || c.afterRest ? REST_SHARE : 1;
  return share * (positionCost(spans, f1, a.midi, f2, b.midi, f3, c.midi) + threeFourFiveCost(f1, f2, f3));
}

/** Index of the least value, the first of equals. */
function leastIndex(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! < values[best]!) best = i;
  return best;
}

/**
 * One finger a note. Dynamic programming over the whole melody, the state being the fingers of the last two
 * keys: the sum of the twelve rules of Parncutt et al. (1997) is least. Repeated keys keep their finger;
 * across a rest of 0.6 s or more the spans count a quarter; what no hand reaches is a leap, taken only where
 * there is no other way. Time and memory grow linearly (125 steps a note). Empty for no notes.
 */
export function fingerRightHand(
  notes: readonly FingerNote[],
  options: { readonly hand: HandSize },
): Finger[] {
  const spans = spanTable(options.hand);
  const strokes = strokesOf(notes);
  const fingers = searchStrokes(strokes, spans);
  return strokes.flatMap((stroke, i) => Array.from({ length: stroke.count }, () => fingers[i]!));
}

function searchStrokes(strokes: readonly Stroke[], spans: SpanTable): Finger[] {
  const first = strokes[0];
  if (first === undefined) return [];
  const alone = (i: number, f: number): number =>
    fingerCost(f, strokes[i]!.midi, strokes[i - 1]?.midi ?? null, strokes[i + 1]?.midi ?? null);
  if (strokes.length === 1) return [FINGERS[leastIndex(Float64Array.from(FINGERS, (f) => alone(0, f)))]!];

  // State s = 5·(finger of the stroke before − 1) + (finger of this stroke − 1).
  let costs = Float64Array.from({ length: 25 }, (_, s) => {
    const f1 = Math.floor(s / 5) + 1;
    const f2 = (s % 5) + 1;
    return alone(0, f1) + alone(1, f2) + stepCost(spans, f1, first, f2, strokes[1]!);
  });
  const back = new Uint8Array(25 * strokes.length);
  for (let i = 2; i < strokes.length; i++) {
    const [a, b, c] = [strokes[i - 2]!, strokes[i - 1]!, strokes[i]!];
    const next = new Float64Array(25);
    for (let f2 = 1; f2 <= 5; f2++) {
      for (let f3 = 1; f3 <= 5; f3++) {
        const own = alone(i, f3) + stepCost(spans, f2, b, f3, c);
        let best = Number.POSITIVE_INFINITY;
        let bestFinger = 1;
        for (let f1 = 1; f1 <= 5; f1++) {
          const cost = costs[5 * (f1 - 1) + f2 - 1]! + turnCost(spans, f1, a, f2, b, f3, c);
          if (cost < best) {
            best = cost;
            bestFinger = f1;
          }
        }
        const state = 5 * (f2 - 1) + f3 - 1;
        next[state] = best + own;
        back[25 * i + state] = bestFinger;
      }
    }
    costs = next;
  }
  return traceBack(leastIndex(costs), back, strokes.length);
}

function traceBack(lastState: number, back: Uint8Array, count: number): Finger[] {
  const fingers: Finger[] = new Array(count);
  let state = lastState;
  for (let i = count - 1; i >= 1; i--) {
    fingers[i] = FINGERS[state % 5]!;
    const before = Math.floor(state / 5);
    fingers[i - 1] = FINGERS[before]!;
    if (i >= 2) state = 5 * (back[25 * i + state]! - 1) + before;
  }
  return fingers;
}
