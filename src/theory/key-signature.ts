/** Key signatures and the usual tonic names, both on the line of fifths (… Bb F C G D …, C = 0). */
import { nameParts } from './tonal-tables.js';
import type { Key, Mode } from './types.js';

/** Place of the natural letters on the line of fifths. */
const LETTER_FIFTHS: Record<string, number> = {
  F: -1,
  C: 0,
  G: 1,
  D: 2,
  A: 3,
  E: 4,
  B: 5,
};
const LETTERS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const;

/**
 * Fifths from a mode's tonic to the tonic of the major scale whose signature it is written with: the church
 * modes take the signature of the major scale with their notes, the minors, minor pentatonic and blues that
 * of the natural minor (common practice: raised sixths and sevenths are written as accidentals).
 */
const FIFTHS_TO_MAJOR: Record<Mode, number> = {
  major: 0,
  'major pentatonic': 0,
  lydian: 1,
  mixolydian: -1,
  dorian: -2,
  minor: -3,
  'harmonic minor': -3,
  'melodic minor': -3,
  'minor pentatonic': -3,
  blues: -3,
  phrygian: -4,
  locrian: -5,
};

const MINOR_MODES: ReadonlySet<Mode> = new Set([
  'minor',
  'harmonic minor',
  'melodic minor',
  'dorian',
  'phrygian',
  'locrian',
  'minor pentatonic',
  'blues',
]);

/** Place of a note name on the line of fifths: C = 0, G = 1, F = −1, F# = 6, Bb = −2. */
export function fifthsOfName(name: string): number {
  const parts = nameParts(name);
  if (parts === null) throw new RangeError(`"${name}" is not a note name`);
  return LETTER_FIFTHS[parts.letter]! + 7 * parts.alteration;
}

/** Note name at a place on the line of fifths: 6 is F#, −2 is Bb. */
export function nameOfFifths(fifths: number): string {
  const steps = fifths + 1;
  const alteration = Math.floor(steps / 7);
  const letter = LETTERS[steps - 7 * alteration]!;
  return letter + (alteration < 0 ? 'b'.repeat(-alteration) : '#'.repeat(alteration));
}

/** Fifths of the signature before it is folded into −7..7: G# major gives 8. */
function plainFifths(key: Key): number {
  return fifthsOfName(key.tonic) + FIFTHS_TO_MAJOR[key.mode];
}

/**
 * Sharps (positive) or flats (negative) of the key signature, −7..7, as MIDI and MusicXML write it. Keys that
 * would need more are written as their enharmonic equal (G# major as Ab major: −4).
 */
export function keySignature(key: Key): number {
  const fifths = plainFifths(key);
  return Math.abs(fifths) <= 7
    ? fifths
    : fifths - 12 * Math.sign(fifths) * Math.ceil((Math.abs(fifths) - 7) / 12);
}

/** Whether the key counts as minor in a MIDI or MusicXML signature: its third is minor. */
export function isMinor(mode: Mode): boolean {
  return MINOR_MODES.has(mode);
}

/**
 * The usual name of a tonic given as pitch class 0..11: the one whose signature has the fewest accidentals;
 * of six sharps and six flats the flats (Gb major, Eb minor).
 */
export function usualTonic(pitchClass: number, mode: Mode): string {
  // A fifth is 7 semitones and 7·7 ≡ 1 (mod 12), so pitch class p lies at 7p on the line of fifths, give or take 12.
  const signature = ((((7 * pitchClass + FIFTHS_TO_MAJOR[mode] + 6) % 12) + 12) % 12) - 6;
  return nameOfFifths(signature - FIFTHS_TO_MAJOR[mode]);
}

/** The same key under a name whose signature fits −7..7: G# major becomes Ab major, others stay. */
export function writableKey(key: Key): Key {
  if (Math.abs(plainFifths(key)) <= 7) return key;
  return {
    tonic: nameOfFifths(keySignature(key) - FIFTHS_TO_MAJOR[key.mode]),
    mode: key.mode,
  };
}
