/** The notation in the page: in the key chosen, in rows as wide as there is room. */
import type { Song, SongInKey } from '../page-data.js';
import { rowsOf } from '../rows.js';

/** The width of a printed page's text, in units: wider rows are hard to follow. */
const WIDEST = 18_000;
/** Widths that differ by less, in units, need no new rows. */
const SAME = 150;

export interface Notation {
  /** Draws all lines anew. */
  readonly show: (inKey: SongInKey) => void;
  /** Breaks rows anew where the width has changed. */
  readonly fit: (inKey: SongInKey) => void;
  /** Whether rows of the page's own width still fit, so that nothing needs to be drawn. */
  readonly fits: () => boolean;
  /** Draws for paper. */
  readonly print: (inKey: SongInKey) => void;
}

export function createNotation(song: Song): Notation {
  const staffs = [...document.querySelectorAll<HTMLElement>('.staff')];
  let drawnFor = WIDEST;
  const room = () => {
    const [first] = staffs;
    if (first === undefined) return WIDEST;
    const em = Number.parseFloat(getComputedStyle(first).fontSize);
    return Math.min(WIDEST, Math.floor((first.clientWidth / em) * 1000));
  };
  const draw = ({ drawing, words, scales }: SongInKey, width: number) => {
    drawnFor = width;
    staffs.forEach((staff, i) => {
      const line = staff.closest('.line')!;
      const said = words[i]!;
      staff.innerHTML = rowsOf(drawing.frame, drawing.lines[i]!, i === 0, width).join('');
      staff.setAttribute('aria-label', said.alternative);
      line.querySelector('.hand')!.textContent = said.hand;
      const doubts = line.querySelector<HTMLElement>('.doubts')!;
      doubts.innerHTML = said.doubts;
      doubts.hidden = said.doubts === '';
    });
    document.getElementById('scales')!.innerHTML = scales;
  };
  const fit = (inKey: SongInKey) => {
    const width = room();
    if (Math.abs(width - drawnFor) >= SAME) draw(inKey, width);
  };
  return {
    show: (inKey) => draw(inKey, room()),
    fit,
    fits: () => Math.abs(room() - drawnFor) < SAME,
    print: (inKey) => {
      if (drawnFor !== WIDEST && song.lines.length > 0) draw(inKey, WIDEST);
    },
  };
}
