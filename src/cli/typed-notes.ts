/** Names of notes from the command line. */
import { UsageError } from '../errors.js';
import { parseDegree } from '../theory/degrees.js';
import type { NameSystem } from '../theory/name-systems.js';
import { classNameOf, parseNoteIn } from '../theory/naming.js';
import { nameParts } from '../theory/tonal-tables.js';
import type { Key } from '../theory/types.js';

/** Octave of the names that have none. */
const OCTAVE = 4;

/** What a name is, by system, and an example. */
const WANTED: Readonly<Record<NameSystem, readonly [string, string]>> = {
  english: ['a letter A to G, with # or b where needed', 'F, Bb or F#4'],
  german: ['a letter A to H, with is or es where needed', 'Fis, B or H3'],
  solfège: ['do re mi fa sol la si, with # or b where needed', 'fa#, sib or sol3'],
  degrees: ['a number 1 to 7, with # or b before it where needed', "5, b3 or 1'"],
};

/** Systems without a tonic, in which a name may have been meant. */
const NAMED = ['english', 'german', 'solfège'] as const;

/** The words of the arguments: names may stand in one argument, with blanks or commas between them. */
export function wordsOf(given: readonly string[], system: NameSystem): string[] {
  // A degree may end in a comma: an octave lower.
  const between = system === 'degrees' ? /[\s;]+/ : /[\s;,]+/;
  return given.flatMap((text) => text.split(between)).filter((word) => word !== '');
}

/**
 * MIDI number of a name, with octave or without (then in the octave of middle C); null when it is none. Degrees count from
 * the tonic of the key.
 */
export function typedNote(word: string, system: NameSystem, key: Key | null): number | null {
  if (system === 'degrees') {
    return parseDegree(word, { tonic: key?.tonic ?? 'C', octave: OCTAVE });
  }
  const name = classNameOf(word, system);
  if (name === null) return parseNoteIn(word, { system });
  return nameParts(name)!.pitchClass + 12 * (OCTAVE + 1);
}

/** The first other system in which a word is the name of a note; null where there is none. */
export function systemOf(word: string, system: NameSystem): NameSystem | null {
  return NAMED.find((named) => named !== system && typedNote(word, named, null) !== null) ?? null;
}

/** @param mayBeInput whether the word may have been meant for the name of an input */
export function noSuchName(word: string, system: NameSystem, mayBeInput: boolean): UsageError {
  const [wanted, example] = WANTED[system];
  const isNone = mayBeInput ? 'is neither a file nor the name of a note' : 'is not the name of a note';
  const other = systemOf(word, system);
  const hint = other === null ? '' : `, or give --names ${other}, which has it`;
  return new UsageError(`${word} ${isNone}: write ${wanted}, as in ${example}${hint}.`);
}
