/** The score for the engraver, in which every line of the song stands for itself. */
import type { Melody, MelodyNote } from '../../melody.js';
import { keySignature } from '../../theory/key-signature.js';
import { clefOf } from '../musicxml.js';
import { measures } from '../musicxml-bars.js';
import { unmeasuredMeasures } from '../musicxml-unmeasured.js';
import { type WrittenMeter, writtenMeter } from '../written-meter.js';
import { type Element, element, xmlText } from '../xml.js';

/** A measure of the score: the numbers (from 1) of the melody's notes in it, one for each head; tied heads repeat it. */
export type MeasureNotes = readonly number[];

export interface LineScores {
  readonly musicXml: string;
  /** For each line, its measures in order. */
  readonly lines: readonly (readonly MeasureNotes[])[];
}

/** Heads without bars between two places where a row may break (our choice). */
const HEADS_TOGETHER = 6;

/**
 * A score of one part with the measures of all lines after each other. A line begins with its own pickup or bar, so
 * that a bar shared by two lines is there twice, each time with the notes of one of them. Words, tempo and fingers are left
 * out: they are set beside the engraved notes. Only the last line ends with a final bar line.
 */
export function lineScores(melody: Melody): LineScores {
  const meter = writtenMeter(melody);
  const key = melody.scales[0] ?? null;
  const fifths = key === null ? 0 : keySignature(key);
  const keyElements = key === null ? [] : [element('key', [element('fifths', fifths)])];
  const clef = clefOf(melody.notes);
  const numbers = [...new Set(melody.notes.map((note) => note.line))];
  const lines = numbers.map((number) => {
    const alone = lineAlone(melody, number, meter);
    const drawn =
      meter === null
        ? unmeasured(alone, fifths, keyElements, clef)
        : measures(alone, meter, fifths, keyElements, clef);
    return { first: melody.notes.findIndex((note) => note.line === number), drawn };
  });
  const all = lines.flatMap(({ drawn }) => drawn);
  const part = all.map((measure, i) => bare(measure, i === 0, i === all.length - 1));
  const score = element(
    'score-partwise',
    [
      element('part-list', [element('score-part', [element('part-name', '')], { id: 'P1' })]),
      element('part', part, { id: 'P1' }),
    ],
    { version: '4.0' },
  );
  return { musicXml: xmlText(score), lines: lines.map(({ first, drawn }) => notesIn(drawn, first)) };
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
function unmeasured(line: Melody, fifths: number, key: readonly Element[], clef: Element): Element[] {
  const groups = Array.from({ length: Math.ceil(line.notes.length / HEADS_TOGETHER) }, (_, i) =>
    line.notes.slice(i * HEADS_TOGETHER, (i + 1) * HEADS_TOGETHER),
  );
  const invisible = element('barline', [element('bar-style', 'none')], { location: 'right' });
  return groups.flatMap((notes) =>
    unmeasuredMeasures({ ...line, notes }, fifths, key, clef).map((measure) => ({
      ...measure,
      content: [...(measure.content as readonly Element[]), invisible],
    })),
  );
}

/** A measure without what the page sets itself, and with clef and signatures only at the very start. */
function bare(measure: Element, isFirst: boolean, isLast: boolean): Element {
  const content = (measure.content as readonly Element[])
    .filter(({ name }) => name !== 'direction' && name !== 'print' && (name !== 'attributes' || isFirst))
    .filter((child) => child.name !== 'barline' || isLast || isInvisible(child))
    .map((child) => (child.name === 'note' ? withoutFinger(child) : child));
  return { ...measure, content };
}

function isInvisible(barline: Element): boolean {
  return (barline.content as readonly Element[]).some(({ content }) => content === 'none');
}

function withoutFinger(note: Element): Element {
  const content = (note.content as readonly Element[]).map((child) =>
    child.name === 'notations'
      ? {
          ...child,
          content: (child.content as readonly Element[]).filter(({ name }) => name !== 'technical'),
        }
      : child,
  );
  return { ...note, content };
}

/** Which note every head of a line belongs to, counted from the line's first note. */
function notesIn(drawn: readonly Element[], first: number): MeasureNotes[] {
  let number = first;
  return drawn.map((measure) =>
    (measure.content as readonly Element[]).flatMap((child) => {
      const parts = child.content as readonly Element[];
      if (child.name !== 'note' || parts.some(({ name }) => name === 'rest')) return [];
      if (!parts.some(({ name, attributes }) => name === 'tie' && attributes.type === 'stop')) number++;
      return [number];
    }),
  );
}
