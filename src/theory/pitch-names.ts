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

/** The minors lend each other their sixths and sevenths; these spellings come before the chromatic ones. */
const LENDING: Partial<Record<Mode, readonly Mode[]>> = {
  minor: ['harmonic minor', 'melodic minor'],
  'harmonic minor': ['minor', 'melodic minor'],
  'melodic minor': ['minor'],
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

/**
 * Names without octave of the pitch classes 0..11 (C = 0), spelt for the key. In order: the scale's own
 * spelling; in minor, that of the other minors (the raised seventh of G# minor is F##); a white key by its
 * plain letter; a black key from the twelve places of the line of fifths from three below to eight above the
 * signature's major tonic (Temperley, The Cognition of Basic Musical Structures, 2001, ch. 5: spellings lie
 * close together on the line of fifths), which gives sharps in sharp keys, flats in flat keys, and
 * C# Eb F# G# Bb round C, also without a key.
 */
export function pitchClassNames(key?: Key): readonly string[] {
  const names = new Array<string | undefined>(12);
  const modes = key === undefined ? [] : [key.mode, ...(LENDING[key.mode] ?? [])];
  for (const name of modes.flatMap((mode) => scaleNotes(key!.tonic, mode))) {
    names[nameParts(name)!.pitchClass] ??= name;
  }
  const lowest = (key === undefined ? 0 : keySignature(key)) - 3;
  return Array.from(names, (name, pitchClass) => {
    const place = lowest + ((((7 * pitchClass - lowest) % 12) + 12) % 12);
    return name ?? NATURALS[pitchClass] ?? nameOfFifths(place);
  });
}

/** Name with octave of an integer MIDI number, spelt for the key (as in C major without one): 61 is `C#4` or `Db4`. */
export function noteName(midi: number, key?: Key): string {
  const name = pitchClassNames(key)[((midi % 12) + 12) % 12]!;
  // The octave belongs to the letter: Cb4 sounds below C4, B#3 is C4.
  const letterMidi = midi - nameParts(name)!.alteration;
  return `${name}${Math.floor(letterMidi / 12) - 1}`;
}
