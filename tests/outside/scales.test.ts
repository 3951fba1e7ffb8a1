/** Scales against handbook tables, profiles against the published digits, a few tunes against their known keys. */
import { describe, expect, test } from 'vitest';
import { KOSTKA_PAYNE_MAJOR, KOSTKA_PAYNE_MINOR } from '../../src/theory/profiles.js';
import { rankScales } from '../../src/theory/scales.js';
import { scaleNotes } from '../../src/theory/tonal-tables.js';
import { PUBLISHED_PROFILES } from '../evaluate/keys/published-profiles.js';

/** The major and harmonic minor scales as every handbook prints them (common practice; typed in from memory). */
const MAJORS = [
  'C D E F G A B',
  'Db Eb F Gb Ab Bb C',
  'D E F# G A B C#',
  'Eb F G Ab Bb C D',
  'E F# G# A B C# D#',
  'F G A Bb C D E',
  'F# G# A# B C# D# E#',
  'Gb Ab Bb Cb Db Eb F',
  'G A B C D E F#',
  'Ab Bb C Db Eb F G',
  'A B C# D E F# G#',
  'Bb C D Eb F G A',
  'B C# D# E F# G# A#',
];
const HARMONIC_MINORS = [
  'C D Eb F G Ab B',
  'C# D# E F# G# A B#',
  'D E F G A Bb C#',
  'Eb F Gb Ab Bb Cb D',
  'D# E# F# G# A# B C##',
  'E F# G A B C D#',
  'F G Ab Bb C Db E',
  'F# G# A B C# D E#',
  'G A Bb C D Eb F#',
  'G# A# B C# D# E F##',
  'A B C D E F G#',
  'Bb C Db Eb F Gb A',
  'B C# D E F# G A#',
];

const tonicOf = (scale: string): string => scale.split(' ')[0] ?? '';

describe('scale tables', () => {
  test.each(MAJORS)('major: %s', (scale) => {
    expect(scaleNotes(tonicOf(scale), 'major').join(' ')).toBe(scale);
  });

  test.each(HARMONIC_MINORS)('harmonic minor: %s', (scale) => {
    expect(scaleNotes(tonicOf(scale), 'harmonic minor').join(' ')).toBe(scale);
  });

  test('the white keys from D, E, F, G, A and B are the church modes (Glarean 1547; common practice)', () => {
    expect(scaleNotes('D', 'dorian').join(' ')).toBe('D E F G A B C');
    expect(scaleNotes('E', 'phrygian').join(' ')).toBe('E F G A B C D');
    expect(scaleNotes('F', 'lydian').join(' ')).toBe('F G A B C D E');
    expect(scaleNotes('G', 'mixolydian').join(' ')).toBe('G A B C D E F');
    expect(scaleNotes('A', 'minor').join(' ')).toBe('A B C D E F G');
    expect(scaleNotes('B', 'locrian').join(' ')).toBe('B C D E F G A');
  });

  test('melodic minor, pentatonics and blues (common practice)', () => {
    expect(scaleNotes('A', 'melodic minor').join(' ')).toBe('A B C D E F# G#');
    expect(scaleNotes('Gb', 'major pentatonic').join(' ')).toBe('Gb Ab Bb Db Eb');
    expect(scaleNotes('A', 'minor pentatonic').join(' ')).toBe('A C D E G');
    expect(scaleNotes('A', 'blues').join(' ')).toBe('A C D Eb E G');
  });
});

/**
 * Temperley, Music and Probability (2007), the Kostka-Payne profiles as music21's `analysis/discrete.py` prints
 * them. A wrong copy of the minor row, ending .400 .110, is in circulation.
 */
test('the digits of the Kostka-Payne profiles', () => {
  expect(KOSTKA_PAYNE_MAJOR).toEqual([
    0.748, 0.06, 0.488, 0.082, 0.67, 0.46, 0.096, 0.715, 0.104, 0.366, 0.057, 0.4,
  ]);
  expect(KOSTKA_PAYNE_MINOR).toEqual([
    0.712, 0.084, 0.474, 0.618, 0.049, 0.46, 0.105, 0.747, 0.404, 0.067, 0.133, 0.33,
  ]);
  expect(KOSTKA_PAYNE_MINOR.slice(-2)).not.toEqual([0.4, 0.11]);
});

/**
 * Albrecht & Shanahan, Music Perception 31 (2013), 59–67: each row is a distribution, so its digits add up to 1 within
 * their rounding. The copy of the major row that ends .034 does not. Krumhansl & Kessler, Psychological Review 89 (1982):
 * the ratings add up to 41.79 and 44.51 (sums of the printed digits, by hand).
 */
test('the digits of the profiles that are compared with add up as printed', () => {
  const sum = (row: readonly number[] | undefined): number => (row ?? []).reduce((a, b) => a + b, 0);
  const named = (name: string) => PUBLISHED_PROFILES.find((profile) => profile.name.startsWith(name));
  expect(sum(named('Albrecht')?.major)).toBeCloseTo(1, 6);
  expect(sum(named('Albrecht')?.minor)).toBeCloseTo(1, 2);
  expect(sum(named('Krumhansl')?.major)).toBeCloseTo(41.79, 6);
  expect(sum(named('Krumhansl')?.minor)).toBeCloseTo(44.51, 6);
});

/** Traditional tunes in the keys that song books print them in: [MIDI, beats] with the last note of the tune last. */
const TUNES: readonly (readonly [string, string, readonly (readonly [number, number])[]])[] = [
  [
    'Ah vous dirai-je, maman (France, 18th century)',
    'C major',
    [
      [60, 1],
      [60, 1],
      [67, 1],
      [67, 1],
      [69, 1],
      [69, 1],
      [67, 2],
      [65, 1],
      [65, 1],
      [64, 1],
      [64, 1],
      [62, 1],
      [62, 1],
      [60, 2],
    ],
  ],
  [
    'Ode to Joy (Beethoven 1824), first two lines',
    'D major',
    [
      [66, 1],
      [66, 1],
      [67, 1],
      [69, 1],
      [69, 1],
      [67, 1],
      [66, 1],
      [64, 1],
      [62, 1],
      [62, 1],
      [64, 1],
      [66, 1],
      [66, 1.5],
      [64, 0.5],
      [64, 2],
      [66, 1],
      [66, 1],
      [67, 1],
      [69, 1],
      [69, 1],
      [67, 1],
      [66, 1],
      [64, 1],
      [62, 1],
      [62, 1],
      [64, 1],
      [66, 1],
      [64, 1.5],
      [62, 0.5],
      [62, 2],
    ],
  ],
  [
    'What Shall We Do with the Drunken Sailor (sea shanty): the textbook dorian tune',
    'D dorian',
    [
      [69, 1],
      [69, 0.5],
      [69, 0.5],
      [69, 1],
      [69, 0.5],
      [69, 0.5],
      [69, 1],
      [62, 1],
      [65, 1],
      [69, 1],
      [67, 1],
      [67, 0.5],
      [67, 0.5],
      [67, 1],
      [67, 0.5],
      [67, 0.5],
      [67, 1],
      [60, 1],
      [64, 1],
      [67, 1],
      [69, 1],
      [69, 0.5],
      [69, 0.5],
      [69, 1],
      [69, 0.5],
      [69, 0.5],
      [69, 1],
      [71, 1],
      [72, 1],
      [74, 1],
      [72, 1],
      [69, 1],
      [67, 1],
      [64, 1],
      [62, 2],
      [62, 2],
    ],
  ],
];

describe('tunes whose key is printed', () => {
  test.each(TUNES)('%s is in %s', (_, key, tune) => {
    const notes = tune.map(([midi, weight], i) => ({
      midi,
      weight,
      lineEnd: i === tune.length - 1,
      confidence: 1,
    }));
    const best = rankScales(notes)[0];
    expect(`${best?.tonic} ${best?.mode}`).toBe(key);
    expect(best?.outside).toEqual([]);
  });
});
