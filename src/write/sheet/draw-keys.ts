/** Melodies in several keys → their drawings, engraving nothing twice. */
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { xmlText } from '../score/xml.js';
import { type KeyDrawing, keyDrawing } from './annotate.js';
import type { Engrave } from './engrave.js';
import { type LineMeasure, type LineScores, lineScores } from './line-scores.js';
import { type BarSlice, barSlices, glyphsOf } from './slices.js';
import { scoreXml, startOf } from './strip-start.js';
import { svgTree } from './svg-tree.js';

export interface Drawings {
  readonly keys: readonly KeyDrawing[];
  /** Every glyph that they refer to, by code point. */
  readonly glyphs: ReadonlyMap<string, string>;
}

/** Measures of one strip, 367 notes in twelve keys: 30 take 1.38 s, 120 1.17 s, all at once 1.62 s. */
const MOST_MEASURES = 120;

/** Measures that hang together by ties. */
interface Unit {
  readonly measures: readonly LineMeasure[];
  /** What it looks like: units that look alike are drawn once. */
  readonly look: string;
}

/**
 * A bar looks alike in C♯ and C, where only the signature differs, and often in two lines of the song. So twelve keys
 * take the engraver little more than half the work; the signatures are engraved apart.
 */
export function drawKeys(melodies: readonly Melody[], names: NameSystem, engrave: Engrave): Drawings {
  const glyphs = new Map<string, string>();
  const take = (more: ReadonlyMap<string, string>) => {
    for (const [code, path] of more) glyphs.set(code, path);
  };
  const scores = melodies.map(lineScores);
  const units = scores.map(({ lines, clef }) => lines.map((line) => unitsOf(line, xmlText(clef))));
  const drawn = new Map<string, readonly BarSlice[]>();
  const wanted = new Map<string, { readonly unit: Unit; readonly score: LineScores }>();
  scores.forEach((score, i) => {
    for (const unit of units[i]!.flat()) wanted.set(unit.look, { unit, score });
  });
  for (const strip of stripsOf([...wanted.values()])) {
    const measures = strip.flatMap(({ unit }) => unit.measures);
    const tree = svgTree(
      engrave(scoreXml(strip[0]!.score.attributes, measures.map(({ xml }) => xml).join(''))),
    );
    take(glyphsOf(tree));
    const slices = barSlices(
      tree,
      measures.map(({ notes }) => notes.length),
    );
    let at = 0;
    for (const { unit } of strip) {
      drawn.set(unit.look, slices.slice(at, at + unit.measures.length));
      at += unit.measures.length;
    }
  }
  const keys = melodies.map((melody, i) => {
    const { start, glyphs: own } = startOf(scores[i]!.attributes, engrave);
    take(own);
    const lines = units[i]!.map((line) =>
      line.flatMap(({ measures, look }) =>
        measures.map(({ notes }, j) => ({ notes, slice: drawn.get(look)![j]! })),
      ),
    );
    return keyDrawing(start, lines, melody, names);
  });
  return { keys, glyphs };
}

function unitsOf(line: readonly LineMeasure[], clef: string): Unit[] {
  const groups: LineMeasure[][] = [];
  for (const measure of line) {
    if (measure.isTied && groups.length > 0) groups.at(-1)!.push(measure);
    else groups.push([measure]);
  }
  return groups.map((measures) => ({
    measures,
    look: clef + measures.map(({ xml }) => lookOf(xml)).join(''),
  }));
}

/** Sharps and flats of the sounding pitch are not drawn: the accidental, where there is one, stands apart. */
function lookOf(xml: string): string {
  return xml.replace(/\s*<alter>.*<\/alter>/g, '');
}

type Wanted = readonly { readonly unit: Unit; readonly score: LineScores }[];

/** Parts with one clef each, none too long. */
function stripsOf(wanted: Wanted): Wanted[] {
  const strips: { unit: Unit; score: LineScores }[][] = [];
  let count = 0;
  for (const one of wanted) {
    const strip = strips.at(-1);
    const sameClef = strip !== undefined && xmlText(strip[0]!.score.clef) === xmlText(one.score.clef);
    if (sameClef && count + one.unit.measures.length <= MOST_MEASURES) strip.push(one);
    else {
      strips.push([one]);
      count = 0;
    }
    count += one.unit.measures.length;
  }
  return strips;
}
