/** The notation alone, as an SVG file. */
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { drawKeys } from './draw-keys.js';
import type { Engrave } from './engrave.js';
import { keyName } from './facts-view.js';
import { NOTATION_STYLE } from './glyph-style.js';
import { songLines } from './line-view.js';
import { escaped } from './names.js';
import { rowsOf } from './rows.js';
import { glyphDefinitions } from './slices.js';

/** Units of 1/100 mm: the text width of A4 and Letter, and what a title and the name of a line take. */
export const ROW_UNITS = 18_000;
const MARGIN = 500;
const TITLE = 1500;
const LINE_NAME = 600;
const AFTER_LINE = 400;

/** One line of the song a system, long ones broken, with fingers and names; an SVG that needs nothing else. */
export function notationSvg(melody: Melody, title: string, names: NameSystem, engrave: Engrave): string {
  const { keys, glyphs } = drawKeys([melody], names, engrave);
  const { frame, lines } = keys[0]!;
  const parts: string[] = [];
  let y = TITLE;
  const named = songLines(melody);
  lines.forEach((line, i) => {
    const { like } = named[i]!;
    const name = `Line ${i + 1}${like === null ? '' : ` (like line ${like})`}`;
    parts.push(`<text class="line" x="0" y="${y + 400}" font-size="400">${name}</text>`);
    y += LINE_NAME;
    for (const row of rowsOf(frame, line, i === 0, ROW_UNITS)) {
      // A row states its size in em, which are a thousand units.
      const [, width, height] = /width="(\S+)em" height="(\S+)em"/.exec(row)!.map((em) => 1000 * Number(em));
      const size = `x="0" y="${y}" width="${width}" height="${height}"`;
      parts.push(row.replace(/width="\S+em" height="\S+em"/, size));
      y += height!;
    }
    y += AFTER_LINE;
  });
  const [width, height] = [ROW_UNITS + 2 * MARGIN, y + MARGIN];
  const key = keyName(melody, names);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width / 100}mm" height="${height / 100}mm" viewBox="${-MARGIN} 0 ${width} ${height}" color="#000"><title>${escaped(title)}</title><style>${NOTATION_STYLE}
.line,.title{font-family:Georgia,"Liberation Serif",serif}.title{font-weight:bold}</style><defs>${glyphDefinitions(glyphs)}</defs><rect x="${-MARGIN}" width="${width}" height="${height}" fill="#fff"/><text class="title" x="0" y="900" font-size="600">${escaped(title)}${key === '' ? '' : `, ${key}`}</text>${parts.join('')}</svg>
`;
}
