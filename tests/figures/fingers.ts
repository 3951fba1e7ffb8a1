/** Fingers along a line: what each would cost at each note, and the way that is taken. */
import { FINGER_WEIGHTS } from '../../src/hand/finger-weights.js';
import { addLimits } from '../../src/hand/limits.js';
import { type Merits, meritsOf } from '../../src/hand/merits.js';
import { bestFingers } from '../../src/hand/search.js';
import { spanTable } from '../../src/hand/spans.js';
import { strokesOf } from '../../src/hand/strokes.js';
import { withSigns } from '../../src/write/sheet/names.js';
import type { Sound } from './sounds.js';
import { across, curve, type Point, sheet, stroke, words } from './svg.js';

/** Notes that are shown, from the first on. */
const SHOWN = 14;
const LEFT = 190;
const COLUMN = 89;
const TOP = 150;
const ROW = 86;
/** Against all other fingers of a note: more than all that fingers can have for or against them. */
const ONLY = 1e6;

export function fingersFigure({ melody }: Sound): string {
  const spans = spanTable('medium');
  const strokes = strokesOf(melody.notes, melody.lines);
  const merits = meritsOf(strokes, spans, FINGER_WEIGHTS);
  addLimits(merits, strokes, spans);
  const count = strokes.length;
  const best = bestFingers(merits, count);
  if (best.some((finger, i) => finger + 1 !== melody.notes[i]!.finger)) {
    throw new Error(
      'the program takes other fingers here: a scale, five keys or a repeat; show another tune',
    );
  }
  const most = meritOf(merits, best);
  const costs = Array.from({ length: SHOWN }, (_, i) =>
    Array.from(
      { length: 5 },
      (_, finger) => most - meritOf(merits, bestFingers(only(merits, i, finger), count)),
    ),
  );
  const place = (i: number, finger: number): Point => [LEFT + COLUMN * i, TOP + ROW * (4 - finger)];
  const notes = melody.notes.slice(0, SHOWN);
  return sheet(
    TOP + 4 * ROW + 60,
    'What a finger costs',
    `A table of ${SHOWN} notes across and the five fingers upwards. In each cell stands how much worse the best fingering of the whole line becomes when that finger is taken there; a line joins the cells at 0: ${notes.map(({ finger }) => finger).join(' ')}.`,
    [
      words(
        30,
        40,
        'what the whole line loses when a note takes another finger (✕: out of reach); ring: taken',
        {
          bold: true,
        },
      ),
      ...notes.map(({ name }, i) =>
        words(LEFT + COLUMN * i, 96, withSigns(name), { anchor: 'middle', bold: true }),
      ),
      ...[0, 1, 2, 3, 4].map(
        (finger) =>
          stroke(across(LEFT - 50, LEFT + COLUMN * (SHOWN - 1) + 50, place(0, finger)[1]), 'faint') +
          words(LEFT - 64, place(0, finger)[1] + 9, finger === 0 ? 'thumb 1' : String(finger + 1), {
            anchor: 'end',
          }),
      ),
      curve(
        notes.map(({ finger }, i) => place(i, finger - 1)),
        'blue',
      ),
      ...costs.flatMap((row, i) =>
        row.map((cost, finger) => {
          const [x, y] = place(i, finger);
          const isTaken = best[i] === finger;
          const text = cost > 99 ? '✕' : cost.toFixed(1);
          const back = `<rect fill="#fff" x="${x - 30}" y="${y - 20}" width="60" height="40"/>`;
          const ring = isTaken ? `<circle class="blue" fill="#fff" cx="${x}" cy="${y}" r="28"/>` : back;
          return ring + words(x, y + 9, isTaken ? '0' : text, { anchor: 'middle', bold: isTaken, size: 24 });
        }),
      ),
    ],
  );
}

/** Merit of a whole fingering, fingers from 0. */
export function meritOf({ own, last, both }: Merits, fingers: readonly number[]): number {
  return fingers.reduce((sum, f, i) => {
    const [f1, f2] = [fingers[i - 2] ?? 0, fingers[i - 1] ?? 0];
    const withLast = i > 0 ? last[25 * i + 5 * f2 + f]! : 0;
    return sum + own[5 * i + f]! + withLast + (i > 1 ? both[125 * i + 25 * f1 + 5 * f2 + f]! : 0);
  }, 0);
}

/** The merits where note `i` must take `finger`. */
function only(merits: Merits, i: number, finger: number): Merits {
  const own = merits.own.map((merit, at) => {
    const isOther = Math.floor(at / 5) === i && at % 5 !== finger;
    return isOther ? merit - ONLY : merit;
  });
  return { ...merits, own };
}
