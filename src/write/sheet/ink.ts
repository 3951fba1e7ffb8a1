/** Where the engraver has put ink, and its marks in a short form that needs no style sheet of its own. */
import { numbersIn, type SvgNode } from './svg-tree.js';

/** A box around ink, in the engraver's units; y grows downwards. */
export interface Ink {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Share of its design size at which the engraver sets a glyph of a usual note; small notes are set smaller. */
export const GLYPH_SCALE = 0.72;

/**
 * Boxes of glyphs about their origin, in units at the usual size, by the first digits of their code point: E0A2 whole,
 * E0A3 half and E0A4 black note heads, E26x accidentals, E4Ex rests, E88x digits of tuplets (Standard Music Font Layout
 * 1.4). They are generous: they keep words away.
 */
const BOXES: readonly (readonly [prefix: string, box: Ink])[] = [
  ['E0A2', { left: 0, right: 310, top: -100, bottom: 100 }],
  ['E0A', { left: 0, right: 226, top: -100, bottom: 100 }],
  ['E26', { left: 0, right: 200, top: -380, bottom: 240 }],
  ['E4E', { left: 0, right: 230, top: -320, bottom: 320 }],
  ['E88', { left: 0, right: 200, top: -240, bottom: 20 }],
];
const SMALL: Ink = { left: 0, right: 150, top: 0, bottom: 0 };

const KEPT = ['d', 'points', 'cx', 'cy', 'rx', 'ry', 'x', 'y', 'width', 'height', 'stroke-width', 'fill'];

/** Code point of the glyph that a `use` element shows, such as `E0A4`. */
export function glyphOf(use: SvgNode): string {
  return (use.attributes['xlink:href'] ?? '').slice(1).split('-')[0]!;
}

/** Origin and scale of a `use` element. */
export function placeOf(use: SvgNode): { readonly x: number; readonly y: number; readonly scale: number } {
  const [x = 0, y = 0, scale = 1] = numbersIn(use.attributes.transform ?? '');
  return { x, y, scale };
}

/** The box of a drawn element, null for what draws nothing. */
export function inkOf(node: SvgNode): Ink | null {
  if (node.name === 'use') {
    const { x, y, scale } = placeOf(node);
    const code = glyphOf(node);
    const box = boxOf(code);
    const k = scale / GLYPH_SCALE;
    return {
      left: x + k * box.left,
      right: x + k * box.right,
      top: y + k * box.top,
      bottom: y + k * box.bottom,
    };
  }
  const { d, points, cx, cy } = node.attributes;
  const numbers = numbersIn(d ?? points ?? (cx === undefined ? '' : `${cx} ${cy}`));
  if (numbers.length < 2) return null;
  const [left, right] = extremes(numbers, 0);
  const [top, bottom] = extremes(numbers, 1);
  return { left, right, top, bottom };
}

/** The least and the greatest of every second number from place `first` on. */
function extremes(numbers: readonly number[], first: number): [number, number] {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = first; i < numbers.length; i += 2) {
    least = Math.min(least, numbers[i]!);
    greatest = Math.max(greatest, numbers[i]!);
  }
  return [least, greatest];
}

function boxOf(code: string): Ink {
  for (const [prefix, box] of BOXES) if (code.startsWith(prefix)) return box;
  return SMALL;
}

/** A drawn element as markup: glyphs by reference to `#g-E0A4`, the rest as it is, less names and styles. */
export function markOf(node: SvgNode): string {
  if (node.name === 'use') {
    const { x, y, scale } = placeOf(node);
    const href = `href="#g-${glyphOf(node)}"`;
    return scale === GLYPH_SCALE
      ? `<use ${href} x="${x}" y="${y}"/>`
      : `<use ${href} transform="translate(${x} ${y})scale(${Math.round((1e3 * scale) / GLYPH_SCALE) / 1e3})"/>`;
  }
  let attributes = '';
  for (const key of KEPT) {
    const value = node.attributes[key];
    if (value !== undefined) attributes += ` ${key}="${value.trim()}"`;
  }
  return `<${node.name}${attributes}/>`;
}
