/**
 * Systems in which notes are named for people. The program works with English ASCII names (`Bb4`); these functions
 * bring them into another system and read them back. Octave numbers are those of scientific pitch (C4 is middle C) in
 * every system that names notes, and are left out where the name has none.
 */
import { degreeName, type Home, parseDegree } from './degrees.js';
import type { NameSystem } from './name-systems.js';
import { parseNoteName } from './pitch-names.js';
import type { Key } from './types.js';

/** A system, and for degrees the tonic that is 1. */
export type Naming =
  | { readonly system: Exclude<NameSystem, 'degrees'> }
  | { readonly system: 'degrees'; readonly home: Home };

export const ENGLISH: Naming = { system: 'english' };

const NAME = /^([A-G])(##|bb|#|b|)(-?\d+)?$/;

/** Germans write B for B flat and H for B natural. */
const GERMAN_LETTERS: Readonly<Record<string, string>> = { B: 'H' };
const GERMAN_ENDINGS: Readonly<Record<string, string>> = {
  '': '',
  '#': 'is',
  b: 'es',
  '##': 'isis',
  bb: 'eses',
};
/** Flats that are no letter with -es. */
const GERMAN_FLATS: Readonly<Record<string, string>> = {
  Bb: 'B',
  Eb: 'Es',
  Ab: 'As',
  Ebb: 'Eses',
  Abb: 'Asas',
};
/** Forms that are read beside the one that is written. */
const GERMAN_OTHERS: Readonly<Record<string, string>> = { ases: 'Abb', heses: 'Bbb', hes: 'Bb' };

const SYLLABLES: Readonly<Record<string, string>> = {
  C: 'do',
  D: 're',
  E: 'mi',
  F: 'fa',
  G: 'sol',
  A: 'la',
  B: 'si',
};

/** The sharps and flats of a name as signs: `##` is ♯♯. */
export function withSigns(accidentals: string): string {
  return accidentals.replaceAll('#', '♯').replaceAll('b', '♭');
}

/**
 * An English ASCII name, with or without octave, in another system: `Bb4` is `B4` in German and `si♭4` in solfège, and
 * in F `4` as a degree. @throws RangeError for what is no such name
 */
export function nameIn(name: string, naming: Naming): string {
  const [, letter, accidentals = '', octave = ''] = NAME.exec(name) ?? [];
  if (letter === undefined) throw new RangeError(`"${name}" is not a note name`);
  switch (naming.system) {
    case 'english':
      return name;
    case 'german':
      return `${germanClass(letter, accidentals)}${octave}`;
    case 'solfège':
      return `${SYLLABLES[letter]}${withSigns(accidentals)}${octave}`;
    case 'degrees':
      return degreeName(letter + accidentals, octave === '' ? null : Number(octave), naming.home);
  }
}

/** `Fis minor`: a key with its tonic in a system; what degrees count from is said in English. */
export function keyNameIn({ tonic, mode }: Key, system: NameSystem): string {
  return `${system === 'degrees' ? tonic : nameIn(tonic, { system })} ${mode}`;
}

function germanClass(letter: string, accidentals: string): string {
  return (
    GERMAN_FLATS[letter + accidentals] ?? `${GERMAN_LETTERS[letter] ?? letter}${GERMAN_ENDINGS[accidentals]}`
  );
}

/** Lower-case words → ASCII names, for each of the 35 names with up to two sharps or flats. */
function wordsOf(write: (letter: string, accidentals: string) => string): Map<string, string> {
  const words = new Map<string, string>();
  for (const letter of 'CDEFGAB') {
    for (const accidentals of ['', '#', 'b', '##', 'bb']) {
      words.set(write(letter, accidentals).toLowerCase(), letter + accidentals);
    }
  }
  return words;
}

const GERMAN_WORDS = new Map([...wordsOf(germanClass), ...Object.entries(GERMAN_OTHERS)]);
const SOLFEGE_WORDS = wordsOf((letter, accidentals) => `${SYLLABLES[letter]}${accidentals}`);

function asciiWord(text: string): string {
  return text
    .toLowerCase()
    .normalize('NFC')
    .replace(/^ré/, 're')
    .replaceAll('♯', '#')
    .replaceAll('♭', 'b')
    .replaceAll('𝄪', '##')
    .replaceAll('𝄫', 'bb');
}

/**
 * MIDI number 0..127 of a note name with octave in a system; null when it is none. Letters may be large or small, and
 * sharps and flats signs or ASCII (`si♭4`, `Sib4`); German letters take # too (`F#4`), but no flat sign, because B with
 * one could be either of two notes.
 */
export function parseNoteIn(text: string, naming: Naming): number | null {
  if (naming.system === 'english') return parseNoteName(text);
  if (naming.system === 'degrees') return parseDegree(text, naming.home);
  const [, word = '', octave = ''] = /^(.*?)(-?\d{1,2})$/.exec(text.trim()) ?? [];
  const name = classNameOf(word, naming.system);
  return name === null ? null : parseNoteName(`${name}${octave}`);
}

/** English ASCII name without octave of a note named in a system (`Fis`, `fa♯`, `f#`); null when it is none. */
export function classNameOf(text: string, system: Exclude<NameSystem, 'degrees'>): string | null {
  const word = asciiWord(text.trim());
  if (system === 'solfège') return SOLFEGE_WORDS.get(word) ?? null;
  if (system === 'german') {
    const sharps = /^([acdefgh])(##?)$/.exec(word);
    const german = sharps === null ? word : `${sharps[1]}${'is'.repeat(sharps[2]!.length)}`;
    return GERMAN_WORDS.get(german) ?? null;
  }
  const english = word.charAt(0).toUpperCase() + word.slice(1).replace(/^x$/, '##');
  return NAME.test(english) && !/\d/.test(english) ? english : null;
}
