/**
 * Note and key names. ASCII names with octave are written (`Bb4`, C4 = middle C = MIDI 60); reading also takes
 * the signs ♯ ♭ 𝄪 𝄫, `x` for a double sharp and letters of either case.
 */
import { keySignature, nameOfFifths, writableKey } from './key-signature.js';
import { midiOfName, nameParts, scaleNotes } from './tonal-tables.js';
import type { Key, Mode } from './types.js';

const NOTE = /^([A-G])(##|bb|#|b|)(-?\d{1,2})$/;
const TONIC = /^([A-G])(##|bb|#|b|)(.*)$/;

/** Words for modes, lower case, as people write them. */
const MODE_WORDS: ReadonlyMap<string, Mode> = new Map([
  ['', 'major'],
  ['major', 'major'],
  ['maj', 'major'],
  ['ionian', 'major'],
  ['minor', 'minor'],
  ['min', 'minor'],
  ['m', 'minor'],
  ['natural minor', 'minor'],
  ['aeolian', 'minor'],
  ['harmonic minor', 'harmonic minor'],
  ['melodic minor', 'melodic minor'],
  ['dorian', 'dorian'],
  ['phrygian', 'phrygian'],
  ['lydian', 'lydian'],
  ['mixolydian', 'mixolydian'],
  ['locrian', 'locrian'],
  ['major pentatonic', 'major pentatonic'],
  ['minor pentatonic', 'minor pentatonic'],
  ['blues', 'blues'],
]);

function toAscii(text: string): string {
  const trimmed = text
    .trim()
    .replaceAll('♯', '#')
    .replaceAll('♭', 'b')
    .replaceAll('𝄪', '##')
    .replaceAll('𝄫', 'bb');
  return trimmed.charAt(0).toUpperCase() + trimmed.slice(1).replace(/^x/, '##');
}

/** MIDI number 0..127 of a note name with octave (`C4` is 60, `Cb4` 59, `B#3` 60); null when it is none. */
export function parseNoteName(text: string): number | null {
  const ascii = toAscii(text);
  return NOTE.test(ascii) ? midiOfName(ascii) : null;
}

/**
 * A key or scale name: tonic, then nothing (major), `m`, or a mode's name: `F`, `F#m`, `D minor`,
 * `A harmonic minor`, `E dorian`. Keys beyond seven accidentals come back under their usual name (G# major
 * as Ab major). Null when it is none.
 */
export function parseTonic(text: string): Key | null {
  const parts = TONIC.exec(toAscii(text));
  if (parts === null) return null;
  const rest = parts[3]!;
  const mode = MODE_WORDS.get(
    rest
      .trim()
      .toLowerCase()
      .replace(/[\s_-]+/g, ' '),
  );
  // `M` directly after the tonic means major in chord symbols, so it is not taken for minor.
  if (mode === undefined || rest.trim() === 'M') return null;
  return writableKey({ tonic: parts[1]! + parts[2]!, mode });
}

/**
 * Scales that lend a mode the spelling of notes it does not hold, in this order, before the chromatic ones: the minors
 * lend each other their sixths and sevenths, the pentatonics leave out notes of their major and minor, and church modes
 * take the leading note of the major or minor on their tonic (common practice).
 */
const LENDING: Partial<Record<Mode, readonly Mode[]>> = {
  minor: ['harmonic minor', 'melodic minor'],
  'harmonic minor': ['minor', 'melodic minor'],
  'melodic minor': ['minor'],
  dorian: ['minor', 'melodic minor'],
  phrygian: ['minor', 'harmonic minor', 'melodic minor'],
  locrian: ['phrygian'],
  lydian: ['major'],
  mixolydian: ['major'],
  'major pentatonic': ['major'],
  'minor pentatonic': ['minor', 'harmonic minor', 'melodic minor'],
  blues: ['minor', 'harmonic minor', 'melodic minor'],
};

const NATURALS: Record<number, string> = {
  0: 'C',
  2: 'D',
  4: 'E',
  5: 'F',
  7: 'G',
  9: 'A',
  11: 'B',
};

/** Names of the keys that were asked for before, some hundreds at most: a sheet in twelve keys asks for each of them often. */
const knownHeld = new Map<string, readonly (string | undefined)[]>();
const knownNames = new Map<string, readonly string[]>();

/** Names of the pitch classes that a key holds or is lent, C = 0; undefined for the chromatic ones. */
export function heldNames(key: Key): readonly (string | undefined)[] {
  const known = knownHeld.get(wordsOf(key));
  if (known !== undefined) return known;
  const names = new Array<string | undefined>(12).fill(undefined);
  for (const mode of [key.mode, ...(LENDING[key.mode] ?? [])]) {
    for (const name of scaleNotes(key.tonic, mode)) names[nameParts(name)!.pitchClass] ??= name;
  }
  knownHeld.set(wordsOf(key), names);
  return names;
}

function wordsOf({ tonic, mode }: Key): string {
  return `${tonic} ${mode}`;
}

/**
 * Names without octave of the pitch classes 0..11 (C = 0), spelt for the key. In order: the scale's own
 * spelling; in minor, that of the other minors (the raised seventh of G# minor is F##); a white key by its
 * plain letter; a black key from the twelve places of the line of fifths from three below to eight above the
 * signature's major tonic (Temperley, The Cognition of Basic Musical Structures, 2001, ch. 5: spellings lie
 * close together on the line of fifths), which gives sharps in sharp keys, flats in flat keys, and
 * C# Eb F# G# Bb round C, also without a key.
 */
export function pitchClassNames(key?: Key): readonly string[] {
  const words = key === undefined ? '' : wordsOf(key);
  const known = knownNames.get(words);
  if (known !== undefined) return known;
  const held = key === undefined ? [] : heldNames(key);
  const lowest = (key === undefined ? 0 : keySignature(key)) - 3;
  const names = Array.from({ length: 12 }, (_, pitchClass) => {
    const place = lowest + ((((7 * pitchClass - lowest) % 12) + 12) % 12);
    return held[pitchClass] ?? NATURALS[pitchClass] ?? nameOfFifths(place);
  });
  knownNames.set(words, names);
  return names;
}

/** A name without octave put on a MIDI number of its pitch class: 59 as `Cb` is `Cb4`. */
export function withOctave(name: string, midi: number): string {
  // The octave belongs to the letter: Cb4 sounds below C4, B#3 is C4.
  return `${name}${Math.floor((midi - nameParts(name)!.alteration) / 12) - 1}`;
}

/** Name with octave of an integer MIDI number, spelt for the key (as in C major without one): 61 is `C#4` or `Db4`. */
export function noteName(midi: number, key?: Key): string {
  return withOctave(pitchClassNames(key)[((midi % 12) + 12) % 12]!, midi);
}
