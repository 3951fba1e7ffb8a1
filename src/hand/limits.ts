/** What a hand does not do, whatever the fit says. */
import type { Merits } from './merits.js';
import { isPlayable } from './rules.js';
import type { SpanTable } from './spans.js';
import type { Stroke } from './types.js';

/**
 * Leaving the practical span without a rest: more than any detour, so that it is the last resort; a little less for
 * each semitone, so that where the hand must jump it does so at the widest leap.
 */
const LEAP = 1000;
const LEAP_LESS = 10;
const WIDEST_LEAP = 24;
/**
 * Another finger on a key that is struck again: sung lines are slow enough to keep it (common practice). Printed
 * piano music changes fingers on fast repeats, and the fit alone would.
 */
const CHANGE_ON_REPEAT = 4;

/** Takes merit from fingers out of reach of each other, and from a change of finger on a repeated key. */
export function addLimits(merits: Merits, strokes: readonly Stroke[], spans: SpanTable): void {
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
