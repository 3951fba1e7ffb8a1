/**
 * The only door to the `tonal` package: note and scale tables. tonal answers a name it does not know with
 * empty objects, empty lists and NaN instead of an error, and reads bare numbers as notes; here an unknown
 * name is null, and an unknown scale is a defect that throws.
 */
import { Interval, Note, Scale } from 'tonal';
import type { Mode } from './types.js';

/** Every mode that is ranked, in the order in which equal scores are listed. */
export const MODES: readonly Mode[] = [
  'major',
  'minor',
  'harmonic minor',
  'melodic minor',
  'dorian',
  'mixolydian',
  'major pentatonic',
  'minor pentatonic',
  'blues',
  'lydian',
  'phrygian',
  'locrian',
];

/** A note name taken apart: letter A–G, accidental in semitones (−2..2), pitch class 0..11 (C = 0). */
export interface NameParts {
  readonly letter: string;
  readonly alteration: number;
  readonly pitchClass: number;
}

/** Names that were taken apart before: there are 35, and a sheet in twelve keys asks for them a hundred thousand times. */
const knownParts = new Map<string, NameParts>();

/** Takes an ASCII note name without octave apart (`Bb`, `F##`); null when it is none. */
export function nameParts(name: string): NameParts | null {
  const known = knownParts.get(name);
  if (known !== undefined) return known;
  const note = Note.get(name);
  if (note.empty || note.oct !== undefined || Math.abs(note.alt) > 2) return null;
  const parts = { letter: note.letter, alteration: note.alt, pitchClass: note.chroma };
  knownParts.set(name, parts);
  return parts;
}

/** MIDI number of an ASCII note name with octave (C4 = 60); null when it is no name or not within 0..127. */
export function midiOfName(name: string): number | null {
  const note = Note.get(name);
  if (note.empty || note.oct === undefined || Math.abs(note.alt) > 2) return null;
  const midi = note.midi ?? null;
  return midi !== null && midi >= 0 && midi <= 127 ? midi : null;
}

/** The notes of a scale from the tonic up, spelt one letter a degree: `D E F# G A B C#`. */
export function scaleNotes(tonic: string, mode: Mode): readonly string[] {
  const notes = Scale.get([tonic, mode]).notes;
  if (nameParts(tonic) === null || notes.length === 0) throw new RangeError(`no scale "${tonic} ${mode}"`);
  return notes;
}

const knownSemitones = new Map<Mode, readonly number[]>();

/** Semitones above the tonic of a mode's notes, rising from 0. */
export function modeSemitones(mode: Mode): readonly number[] {
  const known = knownSemitones.get(mode);
  if (known !== undefined) return known;
  const intervals = Scale.get(mode).intervals;
  if (intervals.length === 0) throw new RangeError(`no mode "${mode}"`);
  const found = intervals.map((name) => {
    const semitones = Interval.semitones(name);
    if (!Number.isInteger(semitones)) throw new RangeError(`no interval "${name}"`);
    return semitones;
  });
  knownSemitones.set(mode, found);
  return found;
}

/** An interval's name as musicians write it: quality, then number: `m3`, `P5`, `A4`. */
const INTERVAL = /^([mMPAd]{1,2})(\d{1,2})$/;

/** Steps above the lower note, less octaves, at which intervals are perfect. */
const PERFECT_STEPS: ReadonlySet<number> = new Set([0, 3, 4]);

/** The other spelling of an interval's name, which tonal takes for a direction too: `m3` as `3m`. */
function numberFirst(name: string): string | null {
  const [, quality, number] = INTERVAL.exec(name) ?? [];
  if (quality === undefined) return null;
  // tonal answers M5 and the like, which do not exist: unisons, fourths, fifths and octaves are perfect.
  const perfect = PERFECT_STEPS.has((Number(number) - 1) % 7);
  return /[mMP]/.test(quality) && (quality === 'P') !== perfect ? null : number! + quality;
}

/** Semitones of an interval by name, `m3` is 3; null where there is no such interval (a perfect third). */
export function intervalSemitones(name: string): number | null {
  const written = numberFirst(name);
  const semitones = written === null ? Number.NaN : Interval.semitones(written);
  return Number.isInteger(semitones) ? semitones : null;
}

/** The note name without octave an interval above or below another: `F` and `m3` up is `Ab`; null beyond double accidentals. */
export function nameAtInterval(name: string, interval: string, direction: 1 | -1): string | null {
  const found = Note.transpose(name, `${direction < 0 ? '-' : ''}${numberFirst(interval)}`);
  return nameParts(found) === null ? null : found;
}
