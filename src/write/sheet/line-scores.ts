/** The measures of the score, in which every line of the song stands for itself. */
import type { Melody, MelodyNote } from '../../melody.js';
import { keySignature } from '../../theory/key-signature.js';
import { clefOf } from '../score/musicxml.js';
import { measures } from '../score/musicxml-bars.js';
import { unmeasuredMeasures } from '../score/musicxml-unmeasured.js';
import { type WrittenMeter, writtenMeter } from '../score/written-meter.js';
import { type Element, element, xmlText } from '../score/xml.js';
import { type Attributes, NO_TIME } from './strip-start.js';

/** A measure, and the numbers (from 1) of the melody's notes in it, one for each head; tied heads repeat it. */
export interface LineMeasure {
  /** As MusicXML, without clef, key and time. */
  readonly xml: string;
  /** Whether its first note is tied to the measure before. */
  readonly isTied: boolean;
  readonly notes: readonly number[];
}

/** The score of a melody in one key. */
export interface LineScores {
  readonly attributes: Attributes;
  readonly clef: Element;
  readonly lines: readonly (readonly LineMeasure[])[];
}

/** Heads without bars between two places where a row may break (our choice). */
const HEADS_TOGETHER = 6;

/**
 * The measures of all lines. A line begins with its own pickup or bar, so that a bar shared by two lines is there
 * twice, each time with the notes of one of them. Words, tempo and fingers are left out: they are set beside the
 * engraved notes. Only the last line ends with a final bar line.
 */
export function lineScores(melody: Melody): LineScores {
  const meter = writtenMeter(melody);
  const key = melody.scales[0] ?? null;
  const fifths = key === null ? 0 : keySignature(key);
  const clef = clefOf(melody.notes);
  const numbers = [...new Set(melody.notes.map((note) => note.line))];
  const lines = numbers.map((number, i) => {
    const alone = lineAlone(melody, number, meter);
    const drawn = meter === null ? unmeasured(alone, fifths, clef) : measures(alone, meter, fifths, [], clef);
    const isLast = i === numbers.length - 1;
    let at = melody.notes.findIndex((note) => note.line === number);
    return drawn.map((measure, j) => {
      const notes = notesIn(measure, at);
      at = notes.at(-1) ?? at;
      const xml = xmlText(bare(measure, isLast && j === drawn.length - 1));
      return { xml, isTied: startsTied(measure), notes };
    });
  });
  const time =
    meter === null
      ? NO_TIME
      : element('time', [element('beats', meter.beatsPerBar), element('beat-type', meter.beatUnit)]);
  const divisions = element('divisions', meter?.quarterTicks ?? 1);
  const signature = element('key', [element('fifths', fifths)]);
  return { attributes: [divisions, signature, time, clef], clef, lines };
}

/** One line as a melody of its own, its first bar numbered 1, or 0 where it is a pickup. */
function lineAlone(melody: Melody, number: number, meter: WrittenMeter | null): Melody {
  const notes = melody.notes.filter((note) => note.line === number);
  const shift = meter === null ? 0 : shiftOf(notes[0]!, melody.notes, meter);
  const moved = notes.map((note) => (note.bar === null ? note : { ...note, bar: note.bar - shift, line: 1 }));
  return { ...melody, notes: moved, lines: [], sections: [], tempo: { bpm: null, beats: [] } };
}

/** A line that begins in the second half of a bar, or in a bar where the line before still sounds, has a pickup. */
function shiftOf(first: MelodyNote, notes: readonly MelodyNote[], { beatsPerBar }: WrittenMeter): number {
  const before = notes[notes.indexOf(first) - 1];
  const late = first.beat! - 1 >= beatsPerBar / 2;
  const pickup = first.beat! > 1 && (late || before?.bar === first.bar);
  return pickup ? first.bar! : first.bar! - 1;
}

/** Heads in small groups with nothing between them, so that a long line can be broken into rows. */
function unmeasured(line: Melody, fifths: number, clef: Element): Element[] {
  const groups = Array.from({ length: Math.ceil(line.notes.length / HEADS_TOGETHER) }, (_, i) =>
    line.notes.slice(i * HEADS_TOGETHER, (i + 1) * HEADS_TOGETHER),
  );
  const invisible = element('barline', [element('bar-style', 'none')], { location: 'right' });
  return groups.flatMap((notes) =>
    unmeasuredMeasures({ ...line, notes }, fifths, [], clef).map((measure) => ({
      ...measure,
      content: [...(measure.content as readonly Element[]), invisible],
    })),
  );
}

const SET_BY_PAGE: ReadonlySet<string> = new Set(['direction', 'print', 'attributes']);

/** A measure without what the page sets itself; only the last of all keeps its final bar line. */
function bare(measure: Element, isLast: boolean): Element {
  const content: Element[] = [];
  for (const child of measure.content as readonly Element[]) {
    if (child.name === 'note') content.push(withoutFinger(child));
    else if (!SET_BY_PAGE.has(child.name) && (child.name !== 'barline' || isLast || isInvisible(child))) {
      content.push(child);
    }
  }
  return { ...measure, attributes: { number: '1' }, content };
}

function isInvisible(barline: Element): boolean {
  return (barline.content as readonly Element[]).some(({ content }) => content === 'none');
}

function withoutFinger(note: Element): Element {
  const content: Element[] = [];
  for (const child of note.content as readonly Element[]) {
    if (child.name !== 'notations') content.push(child);
    else {
      const rest = (child.content as readonly Element[]).filter(({ name }) => name !== 'technical');
      content.push({ ...child, content: rest });
    }
  }
  return { ...note, content };
}

/** Which note every head of a measure belongs to, after `before` notes of the melody. */
function notesIn(measure: Element, before: number): number[] {
  let number = before;
  const numbers: number[] = [];
  for (const child of measure.content as readonly Element[]) {
    if (child.name !== 'note' || isRest(child)) continue;
    if (!isTied(child)) number++;
    numbers.push(number);
  }
  return numbers;
}

function isRest(note: Element): boolean {
  for (const { name } of note.content as readonly Element[]) if (name === 'rest') return true;
  return false;
}

function startsTied(measure: Element): boolean {
  const first = (measure.content as readonly Element[]).find(({ name }) => name === 'note');
  return first !== undefined && isTied(first);
}

/** Whether a tie comes from the note before. */
function isTied(note: Element): boolean {
  for (const { name, attributes } of note.content as readonly Element[]) {
    if (name === 'tie' && attributes.type === 'stop') return true;
  }
  return false;
}
