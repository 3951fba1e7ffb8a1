/** Fingers over the notes, names under them, doubts: set by us, since the engraver's own words cost half its time. */
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { ENGLISH } from '../../theory/naming.js';
import { isDoubtful } from '../doubtful.js';
import { namingOf } from '../naming-of.js';
import { otherNamer } from '../other-name.js';
import type { Frame, LineDrawing, Piece } from './drawing.js';
import { shownIn, withoutOctave } from './names.js';
import type { BarSlice, Slice, StripStart } from './slices.js';

/**
 * Font sizes and distances in units; 100 units are a millimetre in print. Fingers are 3.3 mm high, as printed ones
 * are.
 */
const FINGER_SIZE = 330;
const NAME_SIZE = 300;
const OTHER_SIZE = 270;
const OVER_INK = 110;
const UNDER_INK = 370;
const OTHER_BELOW = 330;
const OTHER_WIDTH = 850;
/** Letters and digits without descenders take this share of their size above the baseline. */
const CAP_SHARE = 0.75;
const MARGIN = 60;

/** The frame and the lines of a melody in one key. */
export interface KeyDrawing {
  readonly frame: Frame;
  readonly lines: readonly LineDrawing[];
}

/** A bar that was drawn, and the numbers of the notes that its heads stand for. */
export interface DrawnBar {
  readonly slice: BarSlice;
  readonly notes: readonly number[];
}

/**
 * Fingers stand right over their heads, clear of stems and ties; names on one height under the line; a doubtful name
 * has a question mark, and the other likely key stands under it in brackets.
 */
export function keyDrawing(
  start: StripStart,
  lines: readonly (readonly DrawnBar[])[],
  melody: Melody,
  names: NameSystem,
): KeyDrawing {
  const naming = namingOf(melody, names);
  const nameOther = otherNamer(melody, ENGLISH);
  const shown = shownIn(naming);
  return {
    frame: {
      clef: piece(start.clef, ''),
      time: piece(start.time, ''),
      staff: start.staff,
      lineWidth: start.lineWidth,
    },
    lines: lines.map((bars) => lineDrawing(bars, start.staff, melody, nameOther, shown)),
  };
}

function piece({ x, width, art }: Slice, words: string): Piece {
  return { x, width, art, words };
}

function lineDrawing(
  bars: readonly DrawnBar[],
  staff: readonly number[],
  melody: Melody,
  nameOther: (midi: number) => string,
  shown: (name: string) => string,
): LineDrawing {
  const [staffTop, staffBottom] = [Math.min(...staff), Math.max(...staff)];
  const nameY = Math.max(staffBottom, ...bars.map(({ slice }) => slice.bottom)) + UNDER_INK;
  let top = Math.min(staffTop, ...bars.map(({ slice }) => slice.top));
  let bottom = nameY;
  let before = 0;
  let lastOther = { x: Number.NEGATIVE_INFINITY, y: nameY };
  let barX = 0;
  const pieces = bars.map(({ slice, notes }) => {
    const words = notes.flatMap((number, i) => {
      if (number === before) return [];
      before = number;
      const note = melody.notes[number - 1]!;
      const { x, top: ink } = slice.heads[i]!;
      const doubt = isDoubtful(note);
      const fingerY = Math.min(staffTop, ink) - OVER_INK;
      top = Math.min(top, fingerY - CAP_SHARE * FINGER_SIZE);
      const name = `${shown(withoutOctave(note.name))}${doubt ? '?' : ''}`;
      const parts = [
        text('finger', x, fingerY, FINGER_SIZE, String(note.finger)),
        text(doubt ? 'name doubt' : 'name', x, nameY, NAME_SIZE, name),
      ];
      if (note.other !== null) {
        const inLine = barX + x - slice.x;
        // Brackets that would touch take turns on two heights.
        const isNear = inLine - lastOther.x < OTHER_WIDTH && lastOther.y === nameY + OTHER_BELOW;
        lastOther = { x: inLine, y: nameY + (isNear ? 2 : 1) * OTHER_BELOW };
        bottom = Math.max(bottom, lastOther.y);
        parts.push(text('name doubt', x, lastOther.y, OTHER_SIZE, `(${shown(nameOther(note.other))})`));
      }
      return parts;
    });
    barX += slice.width;
    const art = slice.art.replace(/data-n="(\d+)"/g, (_, i: string) => `data-n="${notes[Number(i)]}"`);
    return { x: slice.x, width: slice.width, art, words: words.join('') };
  });
  return {
    top: Math.floor(top - MARGIN),
    bottom: Math.ceil(bottom + MARGIN + 0.2 * NAME_SIZE),
    bars: pieces,
  };
}

function text(kind: string, x: number, y: number, size: number, words: string): string {
  return `<text class="${kind}" x="${Math.round(x)}" y="${Math.round(y)}" font-size="${size}">${words}</text>`;
}
