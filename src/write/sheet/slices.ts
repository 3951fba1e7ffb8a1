/** The engraved strip, cut into bars that can be put into rows of any width. */
import { GLYPH_SCALE, glyphOf, inkOf, markOf, placeOf } from './ink.js';
import type { MeasureNotes } from './line-scores.js';
import { numbersIn, type SvgNode, svgTree, withClass } from './svg-tree.js';

/** A head of a note. All in the engraver's units, a staff space being 180. */
export interface Head {
  /** Number of its note in the melody, from 1. */
  readonly number: number;
  /** Whether it is the first head of its note: the others are tied to it. */
  readonly isFirst: boolean;
  /** Middle of the head. */
  readonly x: number;
  /** Highest and lowest ink that a text over or under the head has to keep clear of. */
  readonly top: number;
  readonly bottom: number;
}

/** A bar, or another piece of the strip, from `x` to `x + width`. */
export interface Slice {
  readonly x: number;
  readonly width: number;
  /** Markup of what is in it, without the staff. */
  readonly art: string;
}

export interface BarSlice extends Slice {
  readonly heads: readonly Head[];
  readonly top: number;
  readonly bottom: number;
}

export interface Strip {
  /** Clef and key signature, which begin every row. */
  readonly clef: Slice;
  /** The time signature; of no width where there is none. */
  readonly time: Slice;
  /** Heights of the five lines of the staff, from the top. */
  readonly staff: readonly number[];
  readonly lineWidth: number;
  readonly bars: readonly BarSlice[];
  /** Glyphs by code point, as path data with y upwards. */
  readonly glyphs: ReadonlyMap<string, string>;
}

/** Room kept before the first note of a bar that begins a row, and round the time signature. */
const LEAD = 200;
const TIME_LEAD = 90;
/** Half the width of a digit or letter that stands over or under a head. */
const HALF_TEXT = 110;
/** Half the width of a black head; a whole note's is wider by little. */
const HALF_HEAD = 113;

/**
 * @param svg the engraver's strip of a score with one staff
 * @param notes the heads of every measure, in order
 * @throws Error where the strip does not have the measures and heads of the score
 */
export function slicesOf(svg: string, notes: readonly MeasureNotes[]): Strip {
  const tree = svgTree(svg);
  const measures = withClass(tree, 'measure');
  if (measures.length !== notes.length) {
    throw new Error(`the engraver drew ${measures.length} measures of ${notes.length}`);
  }
  const [first] = measures;
  const lines = staffLines(first!);
  const clefArt = [...withClass(first!, 'clef'), ...withClass(first!, 'keySig')].flatMap(drawn);
  const timeArt = withClass(first!, 'meterSig').flatMap(drawn);
  const start = musicStart(first!);
  const timeX = timeArt.length === 0 ? start : Math.min(...timeArt.map((use) => placeOf(use).x)) - TIME_LEAD;
  const bars: BarSlice[] = [];
  let ties: SvgNode[] = [];
  measures.forEach((measure, i) => {
    const [left, right] = i === 0 ? [start, spanOf(measure)[1]] : spanOf(measure);
    const own = withClass(measure, 'tie').flatMap(drawn);
    bars.push(
      barSlice(measure, [left, right], [...ties, ...own], notes[i]!, bars.at(-1)?.heads.at(-1)?.number),
    );
    ties = own.filter((tie) => inkOf(tie)!.right > right);
  });
  return {
    clef: { x: 0, width: timeX, art: clefArt.map(markOf).join('') },
    time: { x: timeX, width: start - timeX, art: timeArt.map(markOf).join('') },
    staff: lines.map((line) => numbersIn(line.attributes.d!)[1]!),
    lineWidth: Number(lines[0]?.attributes['stroke-width'] ?? 13),
    bars,
    glyphs: glyphsOf(tree),
  };
}

function barSlice(
  measure: SvgNode,
  [left, right]: readonly [number, number],
  ties: readonly SvgNode[],
  numbers: MeasureNotes,
  before: number | undefined,
): BarSlice {
  const layer = withClass(measure, 'layer');
  const noteNodes = layer.flatMap((node) => withClass(node, 'note'));
  if (noteNodes.length !== numbers.length) {
    throw new Error(`the engraver drew ${noteNodes.length} heads of ${numbers.length}`);
  }
  const ledgers = withClass(measure, 'ledgerLines').flatMap(drawn);
  const barLine = withClass(measure, 'barLine').flatMap(drawn);
  const around = [...ledgers, ...barLine, ...ties].map(markOf).join('');
  const inside = layer.map((node) => artWithNotes(node, noteNodes, numbers)).join('');
  const ink = [...layer.flatMap(drawn), ...ties].flatMap((node) => inkOf(node) ?? []);
  const heads = noteNodes.map((node, i): Head => {
    const head = withClass(node, 'notehead').flatMap(drawn)[0]!;
    const x = placeOf(head).x + (glyphOf(head) === 'E0A2' ? 1.35 : 1) * HALF_HEAD;
    const near = ink.filter((box) => box.left <= x + HALF_TEXT && box.right >= x - HALF_TEXT);
    return {
      number: numbers[i]!,
      isFirst: numbers[i] !== (numbers[i - 1] ?? before),
      x,
      top: Math.min(...near.map((box) => box.top)),
      bottom: Math.max(...near.map((box) => box.bottom)),
    };
  });
  return {
    x: left,
    width: right - left,
    art: around + inside,
    heads,
    top: Math.min(...ink.map((box) => box.top)),
    bottom: Math.max(...ink.map((box) => box.bottom)),
  };
}

/** Markup of a layer: what belongs to a note in a group with the note's number, by which the page marks what sounds. */
function artWithNotes(node: SvgNode, noteNodes: readonly SvgNode[], numbers: MeasureNotes): string {
  const index = noteNodes.indexOf(node);
  if (index >= 0) return `<g data-n="${numbers[index]}">${drawn(node).map(markOf).join('')}</g>`;
  return node.name === 'g'
    ? node.children.map((child) => artWithNotes(child, noteNodes, numbers)).join('')
    : markOf(node);
}

/** Every element that draws something, in order. */
function drawn(node: SvgNode): SvgNode[] {
  if (node.name === 'g') return node.children.flatMap(drawn);
  return node.name === 'text' ? [] : [node];
}

function staffLines(measure: SvgNode): SvgNode[] {
  return withClass(measure, 'staff').flatMap((staff) => staff.children.filter(({ name }) => name === 'path'));
}

/** From where to where the staff of a measure goes. */
function spanOf(measure: SvgNode): readonly [number, number] {
  const [left, , right] = numbersIn(staffLines(measure)[0]!.attributes.d!);
  return [left!, right!];
}

/** Where the music of the first measure begins, after its signatures. */
function musicStart(measure: SvgNode): number {
  const ink = withClass(measure, 'layer')
    .flatMap(drawn)
    .flatMap((node) => inkOf(node) ?? []);
  return Math.min(...ink.map(({ left }) => left)) - LEAD;
}

function glyphsOf(tree: SvgNode): Map<string, string> {
  const defs = tree.children.find(({ name }) => name === 'defs')?.children ?? [];
  return new Map(
    defs.map(({ attributes, children }) => [attributes.id!.split('-')[0]!, children[0]?.attributes.d ?? '']),
  );
}

/** The glyphs as definitions that `markOf` refers to. */
export function glyphDefinitions(glyphs: ReadonlyMap<string, string>): string {
  const paths = [...glyphs].sort(([a], [b]) => (a < b ? -1 : 1));
  return paths
    .map(([code, d]) => `<path id="g-${code}" transform="scale(${GLYPH_SCALE} -${GLYPH_SCALE})" d="${d}"/>`)
    .join('');
}
