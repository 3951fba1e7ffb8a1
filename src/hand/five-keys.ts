/** Lines on five neighbouring keys, which lie under five fingers without a move: the first thing that method books teach. */
import type { Line } from '../rhythm/types.js';
import type { Finger, Stroke } from './types.js';

/** Widest step between neighbouring keys, and from the first to the fifth, in semitones. */
const WIDEST_STEP = 3;
const WIDEST = 8;

/**
 * The finger of every note on a line that five keys hold, null elsewhere and where a finger in the line is settled
 * otherwise. Without lines the whole is one. A melody of one key takes the middle finger (our choice).
 */
export function fiveKeyFingers(
  strokes: readonly Stroke[],
  lines: readonly Line[],
  settled: readonly (Finger | null)[],
): (Finger | null)[] {
  const fingers: (Finger | null)[] = strokes.map(() => null);
  const stretches = lines.length > 0 ? lines : [{ first: 1, last: strokes.length }];
  for (const { first, last } of stretches) {
    const part = strokes.slice(first - 1, last);
    const keys = [...new Set(part.map((stroke) => stroke.midi))].sort((a, b) => a - b);
    const isOneKey = keys.length === 1 && part.length === strokes.length;
    if (!isOneKey && !areUnderFiveFingers(keys)) continue;
    const own = part.map((stroke) => (isOneKey ? 3 : keys.indexOf(stroke.midi) + 1) as Finger);
    if (own.some((finger, k) => (settled[first - 1 + k] ?? finger) !== finger)) continue;
    own.forEach((finger, k) => {
      fingers[first - 1 + k] = finger;
    });
  }
  return fingers;
}

function areUnderFiveFingers(keys: readonly number[]): boolean {
  const steps = keys.slice(1).map((key, i) => key - keys[i]!);
  return keys.length === 5 && keys[4]! - keys[0]! <= WIDEST && steps.every((step) => step <= WIDEST_STEP);
}
