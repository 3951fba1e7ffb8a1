/** The engraved strip, cut into bars that can be put into rows of any width. */
import { GLYPH_SCALE, glyphOf, type Ink, inkOf, markOf, placeOf } from './ink.js';
import { numbersIn, type SvgNode, withClass } from './svg-tree.js';

/** A head of a note. All in the engraver's units, a staff space being 180. */
export interface Head {
  /** Middle of the head. */
  readonly x: number;
  /** Highest and lowest ink that a text over or under the head has to keep clear of. */
  readonly top: number;
  readonly bottom: number;
}

/** A piece of the strip, from `x` to `x + width`. */
export interface Slice {
  readonly x: number;
  readonly width: number;
  /**
   * Markup of what is in it, without the staff. The heads are groups with `data-n`, their place among `heads` from 0.
   */
  readonly art: string;
}

export interface BarSlice extends Slice {
  readonly heads: readonly Head[];
  readonly top: number;
  readonly bottom: number;
}

/** What stands at the start of a strip. */
export interface StripStart {
  /** Clef and key signature, which begin every row. */
  readonly clef: Slice;
  /** The time signature; of no width where there is none. */
  readonly time: Slice;
  /** Heights of the five lines of the staff, from the top. */
  readonly staff: readonly number[];
  readonly lineWidth: number;
}

/** Room kept before the first note of a bar that begins a row, and round the time signature. */
const LEAD = 200;
const TIME_LEAD = 90;
/** Half the width of a digit or letter that stands over or under a head. */
const HALF_TEXT = 110;
/** Half the width of a black head, and of a whole note's as a multiple of it. */
const HALF_HEAD = 113;
const WHOLE_HEAD = 1.35;

/** Clef, signatures and staff of a strip, of which the first measure begins with a note. */
export function stripStart(tree: SvgNode): StripStart {
  const measure = withClass(tree, 'measure')[0]!;
  const lines = staffLines(measure);
  const clef = [...withClass(measure, 'clef'), ...withClass(measure, 'keySig')].flatMap(drawn);
  const time = withClass(measure, 'meterSig').flatMap(drawn);
  const ink = inkIn(withClass(measure, 'layer').flatMap(drawn));
  const start = Math.min(...ink.map(({ left }) => left)) - LEAD;
  const timeX = time.length === 0 ? start : Math.min(...time.map((use) => placeOf(use).x)) - TIME_LEAD;
  return {
    clef: { x: 0, width: timeX, art: clef.map(markOf).join('') },
    time: { x: timeX, width: start - timeX, art: time.map(markOf).join('') },
    staff: lines.map((line) => numbersIn(line.attributes.d!)[1]!),
    lineWidth: Number(lines[0]!.attributes['stroke-width']),
  };
}

/**
 * The bars of a strip after the first measure, which stands for its start.
 * @param headCounts heads of every bar, in order
 * @throws Error where the strip does not have the bars and heads of the score
 */
export function barSlices(tree: SvgNode, headCounts: readonly number[]): BarSlice[] {
  const measures = withClass(tree, 'measure').slice(1);
  if (measures.length !== headCounts.length) {
    throw new Error(`the engraver drew ${measures.length} measures of ${headCounts.length}`);
  }
  let ties: SvgNode[] = [];
  const bars: BarSlice[] = [];
  for (const [i, measure] of measures.entries()) {
    const [left, right] = spanOf(measure);
    const own = withClass(measure, 'tie').flatMap(drawn);
    bars.push(barSlice(measure, [left, right], [...ties, ...own], headCounts[i]!));
    ties = own.filter((tie) => inkOf(tie)!.right > right);
  }
  return bars;
}

function barSlice(
  measure: SvgNode,
  [left, right]: readonly [number, number],
  ties: readonly SvgNode[],
  headCount: number,
): BarSlice {
  const layer = withClass(measure, 'layer');
  const noteNodes = layer.flatMap((node) => withClass(node, 'note'));
  if (noteNodes.length !== headCount) {
    throw new Error(`the engraver drew ${noteNodes.length} heads of ${headCount}`);
  }
  const ledgers = withClass(measure, 'ledgerLines').flatMap(drawn);
  const barLine = withClass(measure, 'barLine').flatMap(drawn);
  const marks: string[] = [];
  addMarks([...ledgers, ...barLine, ...ties], marks);
  for (const node of layer) addWithNotes(node, noteNodes, marks);
  const ink = inkIn([...layer.flatMap(drawn), ...ties]);
  const heads: Head[] = [];
  for (const node of noteNodes) heads.push(headOf(node, ink));
  return { x: left, width: right - left, art: marks.join(''), heads, ...heights(ink) };
}

function inkIn(nodes: readonly SvgNode[]): Ink[] {
  const boxes: Ink[] = [];
  for (const node of nodes) {
    const box = inkOf(node);
    if (box !== null) boxes.push(box);
  }
  return boxes;
}

function headOf(node: SvgNode, ink: readonly Ink[]): Head {
  const head = withClass(node, 'notehead').flatMap(drawn)[0]!;
  const x = placeOf(head).x + (glyphOf(head) === 'E0A2' ? WHOLE_HEAD : 1) * HALF_HEAD;
  const near: Ink[] = [];
  for (const box of ink) if (box.left <= x + HALF_TEXT && box.right >= x - HALF_TEXT) near.push(box);
  return { x, ...heights(near) };
}

/** Highest and lowest of all boxes. */
function heights(boxes: readonly Ink[]): { top: number; bottom: number } {
  let top = Number.POSITIVE_INFINITY;
  let bottom = Number.NEGATIVE_INFINITY;
  for (const box of boxes) {
    top = Math.min(top, box.top);
    bottom = Math.max(bottom, box.bottom);
  }
  return { top, bottom };
}

/** Markup of a layer: what belongs to a note in a group of its own. */
function addWithNotes(node: SvgNode, noteNodes: readonly SvgNode[], marks: string[]): void {
  const index = noteNodes.indexOf(node);
  if (index >= 0) {
    marks.push(`<g data-n="${index}">`);
    addMarks(drawn(node), marks);
    marks.push('</g>');
  } else if (node.name !== 'g') marks.push(markOf(node));
  else for (const child of node.children) addWithNotes(child, noteNodes, marks);
}

function addMarks(nodes: readonly SvgNode[], marks: string[]): void {
  for (const node of nodes) marks.push(markOf(node));
}

/** Every element that draws something, in order. */
function drawn(node: SvgNode): SvgNode[] {
  const found: SvgNode[] = [];
  collectDrawn(node, found);
  return found;
}

function collectDrawn(node: SvgNode, found: SvgNode[]): void {
  if (node.name === 'g') for (const child of node.children) collectDrawn(child, found);
  else if (node.name !== 'text') found.push(node);
}

function staffLines(measure: SvgNode): SvgNode[] {
  return withClass(measure, 'staff').flatMap((staff) => staff.children.filter(({ name }) => name === 'path'));
}

/** From where to where the staff of a measure goes. */
function spanOf(measure: SvgNode): readonly [number, number] {
  const [left, , right] = numbersIn(staffLines(measure)[0]!.attributes.d!);
  return [left!, right!];
}

/** The glyphs of a strip by code point, as path data with y upwards. */
export function glyphsOf(tree: SvgNode): Map<string, string> {
  const defs = tree.children.find(({ name }) => name === 'defs')?.children ?? [];
  return new Map(
    defs.map(({ attributes, children }) => [attributes.id!.split('-')[0]!, children[0]?.attributes.d ?? '']),
  );
}

/** Those of the glyphs that a slice shows. */
export function glyphsIn({ art }: Slice, glyphs: ReadonlyMap<string, string>): Map<string, string> {
  return new Map([...glyphs].filter(([code]) => art.includes(`"#g-${code}"`)));
}

/** A slice of glyphs of the usual size, further to the right. */
export function movedSlice({ x, width, art }: Slice, by: number): Slice {
  return {
    x: x + by,
    width,
    art: art.replace(/ x="([^"]+)"/g, (_, at: string) => ` x="${Number(at) + by}"`),
  };
}

/** The glyphs as definitions that `markOf` refers to. */
export function glyphDefinitions(glyphs: ReadonlyMap<string, string>): string {
  const paths = [...glyphs].sort(([a], [b]) => (a < b ? -1 : 1));
  return paths
    .map(([code, d]) => `<path id="g-${code}" transform="scale(${GLYPH_SCALE} -${GLYPH_SCALE})" d="${d}"/>`)
    .join('');
}
