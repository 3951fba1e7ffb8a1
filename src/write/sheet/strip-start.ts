/** Clef and signatures at the start of a strip, engraved as seldom as can be. */
import { type Element, element, xmlText } from '../score/xml.js';
import type { Engrave } from './engrave.js';
import { glyphsIn, glyphsOf, movedSlice, type StripStart, stripStart } from './slices.js';
import { svgTree } from './svg-tree.js';

/** What begins a score: the children of `attributes` in their order. */
export type Attributes = readonly [divisions: Element, key: Element, time: Element, clef: Element];

export interface Start {
  readonly start: StripStart;
  /** The glyphs that it shows, by code point. */
  readonly glyphs: ReadonlyMap<string, string>;
}

/** The time of a score without bars, which is not shown. */
export const NO_TIME: Element = element('time', [element('senza-misura')], { 'print-object': 'no' });

/** By engraver and score: twelve keys, a few times and clefs. */
const KNOWN = new WeakMap<Engrave, Map<string, Start>>();

/** Accidentals of the longest signature. */
const MOST_FIFTHS = 7;

/**
 * Clef, key and time. The engraver takes as long for them as for a line of music, and a song needs them in twelve keys, so
 * that what is engraved is: the clef alone, seven sharps and seven flats, all without a time, and a time in one key. A
 * shorter signature is the start of a long one (sharps and flats have one order each: common practice), and the time
 * stands as far behind any signature as behind seven sharps, and nearer behind a clef alone. Both were checked against the
 * engraver for every signature and many times.
 */
export function startOf([divisions, key, time, clef]: Attributes, engrave: Engrave): Start {
  const known = KNOWN.get(engrave) ?? new Map<string, Start>();
  KNOWN.set(engrave, known);
  const engraved = (fifths: number, ofTime: Element): Start => {
    const xml = scoreXml([divisions, element('key', [element('fifths', fifths)]), ofTime, clef], '');
    const found = known.get(xml) ?? startIn(engrave(xml));
    known.set(xml, found);
    return found;
  };
  const fifths = fifthsOf(key);
  const alone = shortened(engraved(MOST_FIFTHS * Math.sign(fifths), NO_TIME), Math.abs(fifths));
  if (time.attributes['print-object'] === 'no') return alone;
  const model = fifths === 0 ? 0 : MOST_FIFTHS;
  const timed = engraved(model, time);
  const further = alone.start.clef.width - engraved(model, NO_TIME).start.clef.width;
  const { clef: shown, staff, lineWidth } = alone.start;
  return {
    start: {
      clef: { ...shown, width: timed.start.clef.width + further },
      time: movedSlice(timed.start.time, further),
      staff,
      lineWidth,
    },
    glyphs: new Map([...alone.glyphs, ...glyphsIn(timed.start.time, timed.glyphs)]),
  };
}

/** The first accidentals of the longest signature, without a time; a clef alone stays as it is. */
function shortened({ start, glyphs }: Start, accidentals: number): Start {
  const marks = start.clef.art.match(/<use [^>]*>/g)!;
  const kept = accidentals === 0 ? marks : marks.slice(0, marks.length - MOST_FIFTHS + accidentals);
  const width = start.clef.width - (xOf(marks.at(-1)!) - xOf(kept.at(-1)!));
  return {
    start: { ...start, clef: { x: 0, width, art: kept.join('') }, time: { x: width, width: 0, art: '' } },
    glyphs,
  };
}

function xOf(mark: string): number {
  return Number(/ x="([^"]+)"/.exec(mark)![1]);
}

function fifthsOf(key: Element): number {
  return Number((key.content as readonly Element[])[0]!.content);
}

function startIn(svg: string): Start {
  const tree = svgTree(svg);
  return { start: stripStart(tree), glyphs: glyphsOf(tree) };
}

/**
 * A score of one part. Its first measure is one note: it shows the signatures, and the others begin after it.
 * @param measures as MusicXML
 */
export function scoreXml(attributes: Attributes, measures: string): string {
  const note = element('note', [
    element('pitch', [element('step', 'C'), element('octave', 4)]),
    element('duration', attributes[0].content as string),
    element('voice', 1),
    element('type', 'quarter'),
  ]);
  const first = xmlText(
    element('measure', [element('attributes', attributes), note], { number: '0', implicit: 'yes' }),
  );
  return `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">${first}${measures}</part></score-partwise>`;
}
