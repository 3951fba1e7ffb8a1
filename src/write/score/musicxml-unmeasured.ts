/** A melody without bars: note heads that say how high, and no more than short or long. */
import type { Melody, MelodyNote } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { noteMarks, words } from './musicxml-marks.js';
import { barAccidentals, noteElement } from './musicxml-note.js';
import { type Element, element } from './xml.js';

/** Words at the start, so that nobody takes the heads for note values. */
const NO_BEAT_WORDS = 'no steady beat was heard: lengths are not written';

/** A note is long that sounds this many times as long as the middle one of all (our choice). */
const LONG = 1.8;

/**
 * A measure a line of the song, without a time signature (`senza-misura`): black heads without stems, white
 * ones for long notes, as chant is printed in modern books. An accidental holds to the end of its line.
 */
export function unmeasuredMeasures(
  melody: Melody,
  fifths: number,
  key: readonly Element[],
  clef: Element,
  names: NameSystem = 'english',
): Element[] {
  const { notes } = melody;
  const marks = noteMarks(melody, names);
  const lengths = notes.map((note) => note.end - note.start).sort((a, b) => a - b);
  const middle = lengths[lengths.length >> 1] ?? 0;
  const isLong = (note: MelodyNote) => note.end - note.start >= LONG * middle;
  const attributes = element('attributes', [
    element('divisions', 1),
    ...key,
    element('time', [element('senza-misura')], { 'print-object': 'no' }),
    clef,
  ]);
  const lines = [...new Set(notes.map((note) => note.line))];
  const measures = (lines.length === 0 ? [null] : lines).map((line, index) => {
    const accidentals = barAccidentals(fifths);
    const heads = notes.flatMap((note, i) =>
      note.line === line ? [...marks(i), head(note, isLong(note), accidentals.needed(note))] : [],
    );
    return element(
      'measure',
      [
        ...(index === 0
          ? [attributes, words(NO_BEAT_WORDS, 'above')]
          : [element('print', [], { 'new-system': 'yes' })]),
        ...(heads.length === 0 ? [silence()] : heads),
      ],
      { number: String(index + 1) },
    );
  });
  return measures;
}

const PLAIN = { tiedFrom: false, tiedTo: false, threeOf: null, tuplet: null, beams: [] } as const;

function head(note: MelodyNote, long: boolean, accidental: string | null): Element {
  const value = { type: long ? 'half' : 'quarter', dots: 0 } as const;
  return noteElement(note, { ...PLAIN, duration: long ? 2 : 1, value, stem: 'none' }, accidental);
}

function silence(): Element {
  return noteElement(null, { ...PLAIN, duration: 4, value: null, stem: 'usual' }, null);
}
