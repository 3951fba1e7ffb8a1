/** Fingers over the notes, names under them, doubts: set by us, since the engraver's own words cost half its time. */
import type { Melody } from '../../melody.js';
import { isDoubtful } from '../doubtful.js';
import { otherNamer } from '../other-name.js';
import type { Frame, LineDrawing, Piece } from './drawing.js';
import { withoutOctave, withSigns } from './names.js';
import type { BarSlice, Slice, Strip } from './slices.js';

/** Font sizes and distances in units; 100 units are a millimetre in print. Fingers are 3.3 mm high, as printed ones are. */
const FINGER_SIZE = 330;
const NAME_SIZE = 300;
const OTHER_SIZE = 270;
const OVER_INK = 110;
const UNDER_INK = 370;
const OTHER_BELOW = 330;
/** Letters and digits without descenders take this share of their size above the baseline. */
const CAP_SHARE = 0.75;
const MARGIN = 60;

/** The frame and the lines of a melody in one key. */
export interface KeyDrawing {
  readonly frame: Frame;
  readonly lines: readonly LineDrawing[];
}

/**
 * Fingers stand right over their heads, clear of stems and ties; names on one height under the line; a doubtful name
 * has a question mark, and the other likely key stands under it in brackets.
 * @param barCounts number of bars of each line
 */
export function keyDrawing(strip: Strip, melody: Melody, barCounts: readonly number[]): KeyDrawing {
  let at = 0;
  const nameOther = otherNamer(melody);
  const lines = barCounts.map((count) => {
    const bars = strip.bars.slice(at, at + count);
    at += count;
    return lineDrawing(bars, strip.staff, melody, nameOther);
  });
  return {
    frame: {
      clef: piece(strip.clef, ''),
      time: piece(strip.time, ''),
      staff: strip.staff,
      lineWidth: strip.lineWidth,
    },
    lines,
  };
}

function piece({ x, width, art }: Slice, words: string): Piece {
  return { x, width, art, words };
}

function lineDrawing(
  bars: readonly BarSlice[],
  staff: readonly number[],
  melody: Melody,
  nameOther: (midi: number) => string,
): LineDrawing {
  const [staffTop, staffBottom] = [Math.min(...staff), Math.max(...staff)];
  const nameY = Math.max(staffBottom, ...bars.map(({ bottom }) => bottom)) + UNDER_INK;
  let top = Math.min(staffTop, ...bars.map((bar) => bar.top));
  let bottom = nameY;
  const pieces = bars.map((bar) => {
    const words = bar.heads
      .filter(({ isFirst }) => isFirst)
      .map(({ number, x, top: ink }) => {
        const note = melody.notes[number - 1]!;
        const doubt = isDoubtful(note);
        const fingerY = Math.min(staffTop, ink) - OVER_INK;
        top = Math.min(top, fingerY - CAP_SHARE * FINGER_SIZE);
        const name = `${withSigns(withoutOctave(note.name))}${doubt ? '?' : ''}`;
        const parts = [
          text('finger', x, fingerY, FINGER_SIZE, String(note.finger)),
          text(doubt ? 'name doubt' : 'name', x, nameY, NAME_SIZE, name),
        ];
        if (note.other !== null) {
          bottom = nameY + OTHER_BELOW;
          parts.push(text('name doubt', x, bottom, OTHER_SIZE, `(${withSigns(nameOther(note.other))})`));
        }
        return parts.join('');
      });
    return piece(bar, words.join(''));
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
