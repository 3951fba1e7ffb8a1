/** One-voice tunes in ABC notation (standard 2.1, sections 3.1.14 and 4) with their tonics and modes. */

export type FolkMode = 'major' | 'mixolydian' | 'minor' | 'dorian';

export interface FolkTune {
  /** Pitch class 0..11. */
  readonly tonic: number;
  readonly mode: FolkMode;
  /** Times in seconds, at a quarter note of half a second. */
  readonly notes: readonly { readonly start: number; readonly end: number; readonly midi: number }[];
}

type Letter = 'C' | 'D' | 'E' | 'F' | 'G' | 'A' | 'B';
const SEMITONES: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
/** Letters in the order in which signatures sharpen them; flats come from the other end. */
const SHARPENED = 'FCGDAEB';
/** Place of the first three letters of a mode's name, and how many fifths its signature lies above that of the major. */
const MODES: Readonly<Record<string, readonly [FolkMode, number]>> = {
  '': ['major', 0],
  maj: ['major', 0],
  ion: ['major', 0],
  mix: ['mixolydian', -1],
  dor: ['dorian', -2],
  m: ['minor', -3],
  min: ['minor', -3],
  aeo: ['minor', -3],
};
/** Seconds of a whole note. */
const WHOLE_SECONDS = 2;
/** Shorter tunes are left out. */
const FEWEST_NOTES = 12;

const KEY = /^K:[ \t]*([A-G])([b#]?)[ \t]*([A-Za-z]*)/gm;
const NOT_MUSIC = /"[^"]*"|![^!]*!|\{[^}]*\}|\[[A-Za-z]:[^\]]*\]|%.*/g;
const TOKEN = /\|+|\(3|[zx][\d/]*|([_^=]*)([A-Ga-g])([,']*)\d*\/*\d*|-/g;

const count = (text: string, letter: string): number => text.split(letter).length - 1;

/** The tunes of a file that keep one key of these modes and end on its tonic, as a transcriber marked it. */
export function tunesOf(abc: string): FolkTune[] {
  return abc
    .split(/^X:/m)
    .slice(1)
    .flatMap((text) => {
      const keys = [...text.matchAll(KEY)];
      if (keys.length !== 1) return [];
      const [, letter, accidental, name] = keys[0];
      const place = MODES[name.toLowerCase().slice(0, 3)];
      if (place === undefined) return [];
      const moved = count(accidental, '#') - count(accidental, 'b');
      const fifths = SHARPENED.indexOf(letter) - 1 + 7 * moved + place[1];
      if (Math.abs(fifths) > 7) return [];
      const unit = Number(/^L:\s*1\/(\d+)/m.exec(text)?.[1] ?? 8);
      const notes = notesOf(musicOf(text), WHOLE_SECONDS / unit, signature(fifths));
      const tonic = (SEMITONES[letter as Letter] + moved + 12) % 12;
      if (notes.length < FEWEST_NOTES || notes.at(-1)!.midi % 12 !== tonic) return [];
      return [{ tonic, mode: place[0], notes }];
    });
}

function musicOf(text: string): string {
  const rows = text.split('\n').slice(1);
  return rows
    .filter((row) => !/^\s*([A-Za-z]:|%)/.test(row))
    .join('\n')
    .replace(NOT_MUSIC, '');
}

/** By how much a signature of so many sharps, or flats where negative, moves a letter. */
function signature(fifths: number): (letter: string) => number {
  return (letter) => {
    const place = SHARPENED.indexOf(letter);
    if (fifths > 0) return place < fifths ? 1 : 0;
    return place >= SHARPENED.length + fifths ? -1 : 0;
  };
}

/** An accidental holds to the end of its bar. */
function notesOf(music: string, unitSeconds: number, signed: (letter: string) => number): FolkTune['notes'] {
  const notes: { start: number; end: number; midi: number }[] = [];
  const inBar = new Map<string, number>();
  let at = 0;
  let isTied = false;
  let inTriplet = 0;
  for (const token of music.matchAll(TOKEN)) {
    const [text, accidental, letter, octave] = token;
    if (text.startsWith('|')) inBar.clear();
    else if (text === '-') isTied = true;
    else if (text === '(3') inTriplet = 3;
    else {
      const seconds = unitSeconds * lengthOf(text) * (inTriplet > 0 ? 2 / 3 : 1);
      inTriplet = Math.max(0, inTriplet - 1);
      if (letter !== undefined) {
        const name = letter + octave;
        if (accidental !== '') inBar.set(name, count(accidental, '^') - count(accidental, '_'));
        const upper = letter.toUpperCase() as Letter;
        const high = (letter === upper ? 0 : 1) + count(octave, "'") - count(octave, ',');
        const midi = 60 + SEMITONES[upper] + (inBar.get(name) ?? signed(upper)) + 12 * high;
        if (isTied && notes.at(-1)?.midi === midi) notes.at(-1)!.end = at + seconds;
        else notes.push({ start: at, end: at + seconds, midi });
      }
      isTied = false;
      at += seconds;
    }
  }
  return notes;
}

/** Units of a note or rest: `3`, `/`, `//`, `3/2`. */
function lengthOf(text: string): number {
  const [, over, slashes, under] = /(\d*)(\/*)(\d*)$/.exec(text)!;
  return (over === '' ? 1 : Number(over)) / (under === '' ? 2 ** slashes.length : Number(under));
}
