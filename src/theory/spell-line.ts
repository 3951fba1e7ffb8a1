/** Spelling of a whole line: chromatic notes are written by where they come from and where they go. */
import { fifthsOfName, keySignature, nameOfFifths } from './key-signature.js';
import { heldNames, pitchClassNames, withOctave } from './pitch-names.js';
import type { Key } from './types.js';

/**
 * How far off the signature's major tonic, in fifths, a white key may be written with sharps or flats (E#, Cb, F##): from
 * the lowered sixth of major to the raised fourth of minor. Further off the plain letter is written (our choice).
 */
const LOWEST_WHITE = -4;
const HIGHEST_WHITE = 9;

/**
 * What the interval to the next note counts beside that from the last one: a little more, so that of two intervals that
 * ask for opposite spellings the note that follows decides, as it does in a chromatic run (our choice).
 */
const NEXT_COUNTS = 1.25;

/** Fifths of the names of a pitch class: both of a black key, the plain one of a white key and others near the signature. */
function candidates(pitchClass: number, signature: number): number[] {
  const black = [1, 3, 6, 8, 10].includes(pitchClass);
  const places = [-12, 0, 12].map((away) => ((7 * pitchClass) % 12) + away);
  return places.filter((fifths) => {
    const accidentals = nameOfFifths(fifths).length - 1;
    const off = fifths - signature;
    return black ? accidentals === 1 : accidentals === 0 || (off >= LOWEST_WHITE && off <= HIGHEST_WHITE);
  });
}

/**
 * Names with octave of the notes of a line or melody, given as MIDI numbers, spelt for the key. Notes of the scale, and
 * those that other minors lend it, keep the name of the key (`pitchClassNames`). Any other note takes the name that lies
 * nearest to its neighbours on the line of fifths (after Temperley, The Cognition of Basic Musical Structures, 2001,
 * ch. 5; the weights are ours): a chromatic note that rises by a semitone is a raised note (C C# D), one that falls a
 * lowered one (D Db C), and a leap takes the simpler interval. Where both are as near, the key decides.
 */
export function spellLine(midis: readonly number[], key: Key): string[] {
  const usual = pitchClassNames(key);
  const held = heldNames(key);
  const signature = keySignature(key);
  const choices = Array.from({ length: 12 }, (_, pitchClass) => candidates(pitchClass, signature));
  const classOf = (midi: number) => ((midi % 12) + 12) % 12;
  const after = nextOther(midis);
  const places: number[] = [];
  let before: number | null = null;
  for (const [i, midi] of midis.entries()) {
    const pitchClass = classOf(midi);
    const repeats = midi === midis[i - 1];
    if (i > 0 && !repeats) before = places[i - 1]!;
    const heldName = held[pitchClass];
    const next = after[i] === null ? null : fifthsOfName(usual[classOf(after[i]!)]!);
    if (repeats) places.push(places[i - 1]!);
    else if (heldName !== undefined) places.push(fifthsOfName(heldName));
    else places.push(nearest(choices[pitchClass]!, before, next, fifthsOfName(usual[pitchClass]!)));
  }
  return midis.map((midi, i) => withOctave(nameOfFifths(places[i]!), midi));
}

/** For every note the next one on another key; null where none follows. */
function nextOther(midis: readonly number[]): (number | null)[] {
  const after = new Array<number | null>(midis.length).fill(null);
  for (let i = midis.length - 2; i >= 0; i--) {
    after[i] = midis[i + 1] === midis[i] ? after[i + 1]! : midis[i + 1]!;
  }
  return after;
}

/** The place whose intervals to its neighbours are simplest; the usual one where others are only as simple. */
function nearest(
  places: readonly number[],
  before: number | null,
  after: number | null,
  usual: number,
): number {
  const cost = (place: number) =>
    (before === null ? 0 : Math.abs(place - before)) +
    (after === null ? 0 : NEXT_COUNTS * Math.abs(place - after));
  return places.reduce((best, place) => (cost(place) < cost(best) ? place : best), usual);
}
