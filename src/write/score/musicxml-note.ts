/** The MusicXML element of one note or rest; children in the order that the schema wants. */
import type { MelodyNote } from '../../melody.js';
import { fifthsOfName } from '../../theory/key-signature.js';
import { nameParts } from '../../theory/tonal-tables.js';
import type { Beam } from './written-beams.js';
import type { NoteValue } from './written-values.js';
import { type Element, element } from './xml.js';

/** How a note or rest is to be written, apart from its pitch. */
export interface NoteLook {
  /** In divisions; null for a grace note. */
  readonly duration: number | null;
  /** Null for a rest that fills its bar. */
  readonly value: NoteValue | null;
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
  /** Three in the place of two of this kind; null outside such a group. */
  readonly threeOf: NoteValue['type'] | null;
  /** Where a group of three begins or ends, and whether it needs a bracket because no beam shows it. */
  readonly tuplet: { readonly begins: boolean; readonly ends: boolean; readonly bracket: boolean } | null;
  readonly beams: readonly Beam[];
  /** A note head without a stem says nothing of its length. */
  readonly stem: 'usual' | 'none';
}

/** Accidentals by semitones. */
const ACCIDENTALS: Readonly<Record<number, string>> = {
  [-2]: 'flat-flat',
  [-1]: 'flat',
  0: 'natural',
  1: 'sharp',
  2: 'double-sharp',
};

/** The accidentals in force in one bar, from the key signature on. */
export interface Accidentals {
  /** The accidental that a note needs in front, null for none; it stays in force to the end of the bar. */
  readonly needed: (note: MelodyNote) => string | null;
}

/**
 * Accidentals of a bar: one is written where the note differs from the signature or from what came before on
 * the same line or space in the bar (common practice). A note tied over the bar line needs none.
 *
 * @param fifths sharps (positive) or flats of the key signature
 */
export function barAccidentals(fifths: number): Accidentals {
  const inForce = new Map<string, number>();
  return {
    needed: (note) => {
      const { step, alter, octave } = spelling(note);
      const place = `${step}${octave}`;
      const before = inForce.get(place) ?? signatureAlter(step, fifths);
      inForce.set(place, alter);
      return alter === before ? null : ACCIDENTALS[alter]!;
    },
  };
}

/** What the signature does to a letter: sharps come in the order F C G D A E B, flats the other way round. */
function signatureAlter(step: string, fifths: number): number {
  const place = fifthsOfName(step) + 1;
  if (fifths > 0) return place < fifths ? 1 : 0;
  return 6 - place < -fifths ? -1 : 0;
}

function spelling(note: MelodyNote): { step: string; alter: number; octave: number } {
  const parts = nameParts(note.name.replace(/-?\d+$/, ''));
  if (parts === null) throw new RangeError(`"${note.name}" is not a note name`);
  return { step: parts.letter, alter: parts.alteration, octave: Number(/-?\d+$/.exec(note.name)![0]) };
}

/**
 * @param note null for a rest
 * @param accidental as `barAccidentals` says, null for none
 */
export function noteElement(note: MelodyNote | null, look: NoteLook, accidental: string | null): Element {
  const { value, tiedFrom, tiedTo } = look;
  return element('note', [
    ...(look.duration === null ? [element('grace', [], { slash: 'yes' })] : []),
    note === null ? restElement(look) : pitchElement(note),
    ...(look.duration === null ? [] : [element('duration', look.duration)]),
    ...(tiedFrom ? [element('tie', [], { type: 'stop' })] : []),
    ...(tiedTo ? [element('tie', [], { type: 'start' })] : []),
    element('voice', 1),
    ...(value === null ? [] : [element('type', value.type)]),
    ...(value?.dots === 1 ? [element('dot')] : []),
    ...(accidental === null ? [] : [element('accidental', accidental)]),
    ...(look.threeOf === null ? [] : [timeModification(look.threeOf)]),
    ...(look.stem === 'none' ? [element('stem', 'none')] : []),
    ...look.beams.map((beam, index) => element('beam', beam, { number: String(index + 1) })),
    ...notations(note, look),
  ]);
}

function restElement({ value }: NoteLook): Element {
  return element('rest', [], value === null ? { measure: 'yes' } : {});
}

function pitchElement(note: MelodyNote): Element {
  const { step, alter, octave } = spelling(note);
  return element('pitch', [
    element('step', step),
    ...(alter === 0 ? [] : [element('alter', alter)]),
    element('octave', octave),
  ]);
}

function timeModification(type: NoteValue['type']): Element {
  return element('time-modification', [
    element('actual-notes', 3),
    element('normal-notes', 2),
    element('normal-type', type),
  ]);
}

/** Ties, the edge of a group of three, and the finger, on the first note of a chain of ties. */
function notations(note: MelodyNote | null, { tiedFrom, tiedTo, tuplet }: NoteLook): Element[] {
  const inside = [
    ...(tiedFrom ? [element('tied', [], { type: 'stop' })] : []),
    ...(tiedTo ? [element('tied', [], { type: 'start' })] : []),
    ...(tuplet?.begins
      ? [element('tuplet', [], { type: 'start', bracket: tuplet.bracket ? 'yes' : 'no' })]
      : []),
    ...(tuplet?.ends ? [element('tuplet', [], { type: 'stop' })] : []),
    ...(note === null || tiedFrom ? [] : [element('technical', [element('fingering', note.finger)])]),
  ];
  return inside.length === 0 ? [] : [element('notations', inside)];
}
