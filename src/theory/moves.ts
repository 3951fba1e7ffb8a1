/** Moving a melody to another key: by how many semitones, and through which keys. */
import { fifthsOfName, keySignature, nameOfFifths, usualTonic, writableKey } from './key-signature.js';
import { intervalSemitones, nameAtInterval, nameParts } from './tonal-tables.js';
import type { Key } from './types.js';

/** A move: the key that comes out, and the semitones up (negative: down). */
export interface Move {
  readonly key: Key;
  readonly semitones: number;
}

/** Lowest and highest MIDI number that may come out. */
export interface PitchRange {
  readonly lowest: number;
  readonly highest: number;
}

const SEMITONES_PER_OCTAVE = 12;
/** A move of six semitones goes down: a song a tritone away lies as near below as above, and lower notes are the safer ones for a voice (our choice). */
const MOST_SEMITONES_UP = 5;
/** Octaves that MIDI's 128 notes can be apart, and one for what lies between. */
const MOST_OCTAVES = 11;
const FEWEST_KEYS_OF_PLAN = 2;
const MOST_KEYS_OF_PLAN = 12;

function modulo(value: number, modulus: number): number {
  return ((value % modulus) + modulus) % modulus;
}

/** The move to `tonic` that is nearest, −6..5 semitones; the mode stays. */
export function moveToTonic(from: Key, tonic: string): Move {
  const key = writableKey({ tonic, mode: from.mode });
  const steps = nameParts(key.tonic)!.pitchClass - nameParts(from.tonic)!.pitchClass;
  const lowest = MOST_SEMITONES_UP + 1 - SEMITONES_PER_OCTAVE;
  return { key, semitones: modulo(steps - lowest, SEMITONES_PER_OCTAVE) + lowest };
}

/**
 * The move by an interval: whole semitones (`3`, `-2`), after which the tonic has its usual name, or an interval's
 * name (`m3`, `-M2`, `P8`; m minor, M major, P perfect, A augmented, d diminished), which also says how the new tonic
 * is spelt: F major by A4 is B major, by d5 C flat major.
 * @returns null for what is neither
 */
export function moveByInterval(from: Key, text: string): Move | null {
  const trimmed = text.trim().replace(/^\+/, '').replace(/^−/, '-');
  if (/^-?\d{1,2}$/.test(trimmed)) {
    const semitones = Number(trimmed);
    const pitchClass = modulo(nameParts(from.tonic)!.pitchClass + semitones, SEMITONES_PER_OCTAVE);
    const tonic = semitones % SEMITONES_PER_OCTAVE === 0 ? from.tonic : usualTonic(pitchClass, from.mode);
    return { key: { tonic, mode: from.mode }, semitones };
  }
  const down = trimmed.startsWith('-');
  const name = down ? trimmed.slice(1) : trimmed;
  const semitones = intervalSemitones(name);
  const tonic = semitones === null ? null : nameAtInterval(from.tonic, name, down ? -1 : 1);
  if (semitones === null || tonic === null) return null;
  return { key: writableKey({ tonic, mode: from.mode }), semitones: down ? -semitones : semitones };
}

/**
 * The move by whole octaves more or fewer that brings all notes into the range: the one nearest to where the notes lie
 * now, and of two as near the lower.
 * @param midis notes before the move, not empty
 * @returns null where the notes span too much, or lie so that no octave of this key fits
 */
export function withinRange(move: Move, midis: readonly number[], range: PitchRange): Move | null {
  const fits = (semitones: number) =>
    Math.min(...midis) + semitones >= range.lowest && Math.max(...midis) + semitones <= range.highest;
  const semitones = Array.from(
    { length: 2 * MOST_OCTAVES + 1 },
    (_, i) => move.semitones + SEMITONES_PER_OCTAVE * (i - MOST_OCTAVES),
  )
    .filter(fits)
    .sort((a, b) => Math.abs(a) - Math.abs(b) || a - b)[0];
  return semitones === undefined ? null : { key: move.key, semitones };
}

/**
 * Tonics for practice, easiest signature first and one sharp or flat more at a time: in major C G F D Bb A Eb E Ab B Db Gb,
 * in minor A E D B G F# C C# F G# Bb Eb (the order in which beginners' books bring keys in: common practice). Of five sharps or
 * seven flats and the like the fewer; of six sharps and six flats the flats, as everywhere here.
 * @param count of keys, 2..12
 */
export function practiceTonics(from: Key, count: number): readonly string[] {
  if (!(count >= FEWEST_KEYS_OF_PLAN && count <= MOST_KEYS_OF_PLAN))
    throw new RangeError(`no plan of ${count} keys`);
  const key = writableKey(from);
  const fromSignature = fifthsOfName(key.tonic) - keySignature(key);
  const signatures = Array.from({ length: count }, (_, i) => (i % 2 === 0 ? -i / 2 : (i + 1) / 2));
  return signatures.map((signature) => nameOfFifths((signature === 6 ? -6 : signature) + fromSignature));
}
