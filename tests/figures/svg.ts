/** What the figures are drawn with: a sheet of paper, panels with axes, and a handful of looks. */
import { type Axis, axis, ticks } from '../../src/write/plot/plot-scale.js';
import { escaped } from '../../src/write/sheet/names.js';

/** Width of every figure: halves of a CSS pixel, so that whole numbers are fine enough. */
export const WIDTH = 1440;
/** Height of letters. */
export const TEXT = 26;
const LEFT = 120;
const RIGHT = WIDTH - 30;

/**
 * Dark on white. Blue and orange are told apart by colour-blind eyes (Okabe & Ito 2008) and by their lightness in
 * print; whatever colour tells, a dash, a mark or a word tells too.
 */
const STYLE = [
  'text{font-family:sans-serif;fill:#1a1a1a;stroke:#fff;stroke-width:8;stroke-linejoin:round;paint-order:stroke}',
  'path{fill:none;stroke-linejoin:round}',
  '.ink{stroke:#1a1a1a;stroke-width:4}',
  '.thick{stroke:#1a1a1a;stroke-width:8}',
  '.blue{stroke:#0072b2;stroke-width:5}',
  '.orange{stroke:#d55e00;stroke-width:5;stroke-dasharray:16 10}',
  '.grey{stroke:#6b6b6b;stroke-width:3}',
  '.faint{stroke:#cccccc;stroke-width:2}',
  '.dots{stroke:#6b6b6b;stroke-linecap:round}',
  '.fill-blue{fill:#0072b2}',
  '.fill-orange{fill:#f3b27a;stroke:#d55e00;stroke-width:2}',
  '.fill-grey{fill:#9a9a9a}',
  '.fill-ink{fill:#1a1a1a}',
  '.shade-1{fill:#dcdcdc}',
  '.shade-2{fill:#a8a8a8}',
  '.shade-3{fill:#6b6b6b}',
].join('');

export type Look = 'ink' | 'thick' | 'blue' | 'orange' | 'grey' | 'faint' | 'dots';
export type Fill = 'fill-blue' | 'fill-orange' | 'fill-grey' | 'fill-ink' | 'shade-1' | 'shade-2' | 'shade-3';

/** A figure: `says` is its text alternative. */
export function sheet(height: number, title: string, says: string, parts: readonly string[]): string {
  return `${[
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH / 2}" height="${height / 2}" viewBox="0 0 ${WIDTH} ${height}" role="img">`,
    `<title>${escaped(title)}</title><desc>${escaped(says)}</desc><style>${STYLE}</style>`,
    `<rect width="${WIDTH}" height="${height}" fill="#fff"/>`,
    ...parts.filter((part) => part !== ''),
  ].join('\n')}\n</svg>\n`;
}

const whole = (value: number): number => Math.round(value) + 0;

export function words(
  x: number,
  y: number,
  text: string,
  { anchor = 'start', bold = false, size = TEXT }: TextLook = {},
): string {
  const weight = bold ? ' font-weight="bold"' : '';
  return `<text x="${whole(x)}" y="${whole(y)}" font-size="${size}" text-anchor="${anchor}"${weight}>${escaped(text)}</text>`;
}

export interface TextLook {
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  readonly size?: number;
}

export type Point = readonly [x: number, y: number];

/** A line through points; null lifts the pen. */
export function curve(points: readonly (Point | null)[], look: Look): string {
  let d = '';
  let pen: Point | null = null;
  for (const point of points) {
    if (point === null) pen = null;
    else {
      const [x, y] = [whole(point[0]), whole(point[1])];
      d += pen === null ? `M${x} ${y}` : `l${x - pen[0]} ${y - pen[1]}`;
      pen = [x, y];
    }
  }
  return stroke(d, look);
}

export function stroke(d: string, look: Look, width?: number): string {
  return d === ''
    ? ''
    : `<path class="${look}"${width === undefined ? '' : ` style="stroke-width:${width}"`} d="${d}"/>`;
}

export const across = (from: number, to: number, y: number): string =>
  `M${whole(from)} ${whole(y)}H${whole(to)}`;
export const upright = (x: number, from: number, to: number): string =>
  `M${whole(x)} ${whole(from)}V${whole(to)}`;

/** Points of one size: strokes of no length with round ends. */
export function dots(points: readonly Point[], size: number): string {
  return stroke(points.map(([x, y]) => `M${whole(x)} ${whole(y)}h0`).join(''), 'dots', size);
}

export function bar(x: number, y: number, width: number, height: number, fill: Fill): string {
  return `<rect class="${fill}" x="${whole(x)}" y="${whole(y)}" width="${whole(width)}" height="${whole(height)}"/>`;
}

/** Part of the figure with an axis each way. */
export interface Panel {
  readonly time: Axis;
  readonly value: Axis;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export function panel(
  seconds: readonly [number, number],
  values: readonly [number, number],
  [top, bottom]: readonly [number, number],
): Panel {
  return {
    time: axis(seconds, [LEFT, RIGHT]),
    value: axis(values, [bottom, top]),
    left: LEFT,
    right: RIGHT,
    top,
    bottom,
  };
}

export const at = ({ time, value }: Panel, seconds: number, height: number): Point => [
  time.place(seconds),
  value.place(height),
];

/** Lines across the panel at some values, each with its name on the left. */
export function rulers(p: Panel, named: ReadonlyMap<number, string>): string {
  const lines = [...named.keys()].map((value) => across(p.left, p.right, p.value.place(value))).join('');
  const names = [...named].map(([value, name]) =>
    words(p.left - 12, p.value.place(value) + 9, name, { anchor: 'end' }),
  );
  return stroke(lines, 'faint') + names.join('');
}

/** The frame of a panel, and its heading. */
export function frame(p: Panel, heading: string): string {
  const { left, right, top, bottom } = p;
  return (
    stroke(`M${left} ${top}H${right}V${bottom}H${left}Z`, 'grey', 2) +
    words(left, top - 12, heading, { bold: true })
  );
}

/** Ticks with seconds under a panel. */
export function clock({ time, right, bottom, left }: Panel): string {
  const seconds = ticks(time, 12);
  const marks = seconds.map((t) => upright(time.place(t), bottom, bottom + 8)).join('');
  const numbers = seconds.map((t) => words(time.place(t), bottom + 36, String(t), { anchor: 'middle' }));
  return (
    stroke(marks, 'grey', 2) +
    numbers.join('') +
    words((left + right) / 2, bottom + 70, 'seconds', { anchor: 'middle' })
  );
}
