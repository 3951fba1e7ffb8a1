/** Chords of pop songs as a band might sound: what the key model is told of the harmony. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { HarmonyEvidence } from '../../../src/theory/key-harmony.js';
import { nameParts } from '../../../src/theory/tonal-tables.js';
import { chance } from './chance.js';

interface ChordRow {
  readonly id: string;
  /** [MIDI or 0 for a rest, sixteenths]. */
  readonly notes: readonly (readonly [number, number])[];
  /** [name, beats]: `Bb:min7/b3`. */
  readonly chords: readonly (readonly [string, number])[];
}

/** Semitones above the root of what a chord's name means, by its longest beginning; a triad where it is none of these. */
const KINDS: readonly (readonly [string, readonly number[]])[] = [
  ['maj7', [0, 4, 7, 11]],
  ['min7', [0, 3, 7, 10]],
  ['hdim7', [0, 3, 6, 10]],
  ['dim', [0, 3, 6]],
  ['aug', [0, 4, 8]],
  ['sus2', [0, 2, 7]],
  ['sus4', [0, 5, 7]],
  ['min', [0, 3, 7]],
  ['7', [0, 4, 7, 10]],
  ['9', [0, 4, 7, 10]],
  ['', [0, 4, 7]],
];
/** Semitones of the degrees that stand in the bass. */
const BASSES: Readonly<Record<string, number>> = { b3: 3, '3': 4, '5': 7, b7: 10, '7': 11, '2': 2, '4': 5 };

/**
 * How a chord sounds beside its tones, as shares of a tone: third partials, fifth partials; and as shares of all, the
 * least and the most that noise and drums give a pitch class. The melody counts as a share of a tone. Rounded guesses.
 */
const [FIFTHS, THIRDS, LEAST_NOISE, MORE_NOISE, MELODY] = [0.2, 0.1, 0.01, 0.03, 0.8];
/** Shares of the bass: on its note, on the third tone of the chord, anywhere. */
const [ON_BASS, ON_FIFTH, ANYWHERE] = [0.75, 0.1, 0.15];

function tonesOf(name: string): { tones: number[]; bass: number } | null {
  const [root, rest = ''] = name.split(':');
  const parts = nameParts(root);
  if (parts === null) return null;
  const [kind, degree = ''] = rest.split('/');
  const tones = KINDS.find(([start]) => kind.startsWith(start))![1];
  const at = (semitones: number) => (parts.pitchClass + semitones) % 12;
  return { tones: tones.map(at), bass: at(BASSES[degree] ?? 0) };
}

function harmonyOf({ notes, chords }: ChordRow, random: () => number): HarmonyEvidence {
  const chroma = new Array<number>(12).fill(0);
  const bass = new Array<number>(12).fill(0);
  for (const [name, beats] of chords) {
    const chord = tonesOf(name);
    if (chord === null) continue;
    for (const tone of chord.tones) {
      chroma[tone] += beats;
      chroma[(tone + 7) % 12] += FIFTHS * beats;
      chroma[(tone + 4) % 12] += THIRDS * beats;
    }
    bass[chord.bass] += ON_BASS * beats;
    bass[chord.tones[2]] += ON_FIFTH * beats;
    bass[Math.floor(12 * random())] += ANYWHERE * beats;
  }
  const sum = chroma.reduce((a, b) => a + b, 0);
  for (const [midi, sixteenths] of notes) if (midi > 0) chroma[midi % 12] += (MELODY * sixteenths) / 4;
  const noisy = chroma.map((value) => value + sum * (LEAST_NOISE + MORE_NOISE * random()));
  const shares = (values: readonly number[]) => {
    const all = values.reduce((a, b) => a + b, 0);
    return values.map((value) => (all > 0 ? value / all : 0));
  };
  return { chroma: shares(noisy), bass: shares(bass) };
}

/** The harmony of every song under `root` by its id, or null where the chords are not there. */
export function readHarmonies(root: string): ReadonlyMap<string, HarmonyEvidence> | null {
  const path = join(root, 'phrases', 'pop909-phrases.jsonl');
  if (!existsSync(path)) return null;
  const rows = readFileSync(path, 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as ChordRow);
  return new Map(
    rows.map((row, i) => {
      const random = chance(i + 1);
      random();
      return [row.id, harmonyOf(row, random)];
    }),
  );
}
