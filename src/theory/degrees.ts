/**
 * Degrees: notes counted from the tonic, as players think who change key. A degree is that of the major scale on the
 * tonic, with flats and sharps before the number for what lies lower or higher: F is ♭3 in D minor and in D major
 * (common practice of lead sheets; handbooks of classical harmony call the minor third of a minor key 3). The letter
 * decides the number: in C, F# is ♯4 and Gb is ♭5.
 */
import { fifthsOfName, nameOfFifths } from './key-signature.js';
import { midiOfName, nameParts } from './tonal-tables.js';

/** The tonic that is 1, in the octave that is written without an arrow. */
export interface Home {
  /** ASCII without octave: `Bb`. */
  readonly tonic: string;
  /** Octave number of the tonic whose degrees 1 to 7 have no arrow. */
  readonly octave: number;
}

/** Fifths above the tonic of the degrees 1 to 7 of the major scale. */
const DEGREE_FIFTHS = [0, 2, 4, -1, 1, 3, 5] as const;

/** Letters and octaves as one count of steps, C0 = 0. */
function stepsOf(name: string, octave: number): number {
  return 'CDEFGAB'.indexOf(name.charAt(0)) + 7 * octave;
}

/** `♭3` for Eb in C; with an octave arrows for each octave above or below that of the home tonic: `5↓`, `1↑`. */
export function degreeName(name: string, octave: number | null, home: Home): string {
  const steps = stepsOf(name, octave ?? home.octave) - stepsOf(home.tonic, home.octave);
  const degree = ((steps % 7) + 7) % 7;
  const alteration = (fifthsOfName(name) - fifthsOfName(home.tonic) - DEGREE_FIFTHS[degree]!) / 7;
  const signs = alteration < 0 ? '♭'.repeat(-alteration) : '♯'.repeat(alteration);
  const away = octave === null ? 0 : Math.floor(steps / 7);
  return `${signs}${degree + 1}${away < 0 ? '↓'.repeat(-away) : '↑'.repeat(away)}`;
}

const DEGREE = /^(♯{0,3}|#{0,3}|♭{0,3}|b{0,3})([1-7])(↑*|'*|’*|↓*|,*)$/;

/** English ASCII name without octave of a degree, arrows left aside: `b3` in C is Eb; null when it is none. */
export function degreeClass(text: string, home: Pick<Home, 'tonic'>): string | null {
  const [, signs, number] = DEGREE.exec(text.trim()) ?? [];
  if (signs === undefined) return null;
  const alteration = /[♭b]/.test(signs) ? -signs.length : signs.length;
  return nameOfFifths(fifthsOfName(home.tonic) + DEGREE_FIFTHS[Number(number) - 1]! + 7 * alteration);
}

/** MIDI number of a degree, `b` and `#` for the signs and `'` and `,` for the arrows allowed; null when it is none. */
export function parseDegree(text: string, home: Home): number | null {
  const name = degreeClass(text, home);
  if (name === null) return null;
  const [, , number, arrows = ''] = DEGREE.exec(text.trim())!;
  const away = /[↓,]/.test(arrows) ? -arrows.length : arrows.length;
  const steps = stepsOf(home.tonic, home.octave) + Number(number) - 1 + 7 * away;
  const plain = midiOfName(`${name.charAt(0)}${Math.floor(steps / 7)}`);
  const alteration = name.slice(1).replaceAll('b', '-').replaceAll('#', '+');
  if (plain === null) return null;
  const midi = plain + (alteration.startsWith('-') ? -alteration.length : alteration.length);
  return midi >= 0 && midi <= 127 ? midi : null;
}

/** The home of a melody: its tonic in the octave that holds most of the notes (their MIDI numbers), the lower of equals. */
export function homeOf(tonic: string, midis: readonly number[]): Home {
  const pitchClass = nameParts(tonic)!.pitchClass;
  const alteration = nameParts(tonic)!.alteration;
  const counts = new Map<number, number>();
  for (const midi of midis) {
    const octave = Math.floor((midi - pitchClass) / 12);
    counts.set(octave, (counts.get(octave) ?? 0) + 1);
  }
  const [best] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  const tonicMidi = pitchClass + 12 * (best?.[0] ?? 5);
  return { tonic, octave: Math.floor((tonicMidi - alteration) / 12) - 1 };
}
