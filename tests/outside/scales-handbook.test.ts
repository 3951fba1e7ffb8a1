/**
 * What every handbook of theory prints about signatures, modes and intervals (common practice), typed in from memory, and
 * the digits of the published key profiles.
 */
import { Key as TonalKey } from 'tonal';
import { describe, expect, test } from 'vitest';
import { keySignature, usualTonic, writableKey } from '../../src/theory/key-signature.js';
import { pitchClassNames } from '../../src/theory/pitch-names.js';
import {
  intervalSemitones,
  MODES,
  modeSemitones,
  nameAtInterval,
  scaleNotes,
} from '../../src/theory/tonal-tables.js';
import type { Mode } from '../../src/theory/types.js';
import { PUBLISHED_PROFILES } from '../evaluate/keys/published-profiles.js';

describe('key signatures', () => {
  const SHARPS = ['F#', 'C#', 'G#', 'D#', 'A#', 'E#', 'B#'];
  const FLATS = ['Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb', 'Fb'];
  const TONICS = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];

  test('sharps come in the order F C G D A E B, flats in the order B E A D G C F', () => {
    TONICS.forEach((tonic, i) => {
      const fifths = keySignature({ tonic, mode: 'major' });
      expect(fifths).toBe(i - 7);
      const signs = fifths < 0 ? FLATS.slice(0, -fifths) : SHARPS.slice(0, fifths);
      const altered = scaleNotes(tonic, 'major').filter((name) => name.length > 1);
      expect([...altered].sort()).toEqual([...signs].sort());
    });
  });

  test('they are those of tonal', () => {
    for (const tonic of TONICS) {
      expect(keySignature({ tonic, mode: 'major' })).toBe(TonalKey.majorKey(tonic).alteration);
    }
  });

  test('the usual twelve majors and minors; of six sharps and six flats the flats (our choice)', () => {
    const usual = (mode: Mode) => Array.from({ length: 12 }, (_, pc) => usualTonic(pc, mode)).join(' ');
    expect(usual('major')).toBe('C Db D Eb E F Gb G Ab A Bb B');
    expect(usual('minor')).toBe('C C# D Eb E F F# G G# A Bb B');
    expect(usual('dorian')).toBe('C C# D Eb E F F# G Ab A Bb B');
    expect(usual('mixolydian')).toBe('C Db D Eb E F F# G Ab A Bb B');
  });

  test.each([
    ['G#', 'Ab'],
    ['D#', 'Eb'],
    ['A#', 'Bb'],
    ['Fb', 'E'],
    ['E#', 'F'],
    ['B#', 'C'],
  ])('there is no %s major: it is %s', (tonic, known) => {
    expect(writableKey({ tonic, mode: 'major' }).tonic).toBe(known);
  });
});

/** Whole (2) and half (1) steps from the tonic up, as handbooks give them; 3 is a minor third. */
test.each([
  ['major', '2 2 1 2 2 2 1'],
  ['dorian', '2 1 2 2 2 1 2'],
  ['phrygian', '1 2 2 2 1 2 2'],
  ['lydian', '2 2 2 1 2 2 1'],
  ['mixolydian', '2 2 1 2 2 1 2'],
  ['minor', '2 1 2 2 1 2 2'],
  ['locrian', '1 2 2 1 2 2 2'],
  ['harmonic minor', '2 1 2 2 1 3 1'],
  ['melodic minor', '2 1 2 2 2 2 1'],
  ['major pentatonic', '2 2 3 2 3'],
  ['minor pentatonic', '3 2 2 3 2'],
  ['blues', '3 2 1 1 3 2'],
] as const)('steps of %s: %s', (mode, steps) => {
  const degrees = [...modeSemitones(mode), 12];
  expect(
    degrees
      .slice(1)
      .map((degree, i) => degree - degrees[i]!)
      .join(' '),
  ).toBe(steps);
});

test('every mode that is ranked has its steps above', () => {
  expect(MODES).toHaveLength(12);
});

/** Intervals in semitones, and the upper note over C and over E flat (common practice). */
test.each([
  ['P1', 0, 'C', 'Eb'],
  ['m2', 1, 'Db', 'Fb'],
  ['M2', 2, 'D', 'F'],
  ['m3', 3, 'Eb', 'Gb'],
  ['M3', 4, 'E', 'G'],
  ['P4', 5, 'F', 'Ab'],
  ['A4', 6, 'F#', 'A'],
  ['d5', 6, 'Gb', 'Bbb'],
  ['P5', 7, 'G', 'Bb'],
  ['A5', 8, 'G#', 'B'],
  ['m6', 8, 'Ab', 'Cb'],
  ['M6', 9, 'A', 'C'],
  ['m7', 10, 'Bb', 'Db'],
  ['M7', 11, 'B', 'D'],
  ['P8', 12, 'C', 'Eb'],
])('the interval %s is %i semitones, from C to %s', (name, semitones, overC, overEFlat) => {
  expect(intervalSemitones(name)).toBe(semitones);
  expect(nameAtInterval('C', name, 1)).toBe(overC);
  expect(nameAtInterval('Eb', name, 1)).toBe(overEFlat);
});

/** The nine notes of the three minors and, for black keys, the nearer name: A minor as handbooks print it. */
test('the notes round A minor and round C major', () => {
  expect(pitchClassNames({ tonic: 'A', mode: 'minor' }).join(' ')).toBe('C C# D Eb E F F# G G# A Bb B');
  expect(pitchClassNames({ tonic: 'Eb', mode: 'minor' }).join(' ')).toBe('C Db D Eb E F Gb G Ab A Bb Cb');
  expect(pitchClassNames({ tonic: 'G#', mode: 'minor' }).join(' ')).toBe('C C# D D# E E# F# F## G# A A# B');
});

/**
 * Digits as printed: Krumhansl & Kessler, Psychological Review 89 (1982) 334-368; Temperley, Music Perception 17 (1999)
 * 65-100 and Music and Probability (2007); Bellmann 2005 after Budge 1943; Aarden 2003; Albrecht & Shanahan, Music
 * Perception 31 (2013) 59-67. The first four as music21's `analysis/discrete.py` prints them; the others agree in several
 * public transcriptions. Wrong copies are about: Temperley 2007 minor ending .400 .110, Albrecht major ending .034.
 */
const DIGITS: readonly (readonly [string, string, string])[] = [
  [
    'Krumhansl & Kessler 1982',
    '6.35 2.23 3.48 2.33 4.38 4.09 2.52 5.19 2.39 3.66 2.29 2.88',
    '6.33 2.68 3.52 5.38 2.60 3.53 2.54 4.75 3.98 2.69 3.34 3.17',
  ],
  ['Temperley 1999', '5 2 3.5 2 4.5 4 2 4.5 2 3.5 1.5 4', '5 2 3.5 4.5 2 4 2 4.5 3.5 2 1.5 4'],
  [
    'Temperley 2007, Kostka-Payne',
    '.748 .060 .488 .082 .670 .460 .096 .715 .104 .366 .057 .400',
    '.712 .084 .474 .618 .049 .460 .105 .747 .404 .067 .133 .330',
  ],
  [
    'Bellmann 2005',
    '16.80 .86 12.95 1.41 13.49 11.93 1.25 20.28 1.80 8.04 .62 10.57',
    '18.16 .69 12.99 13.34 1.07 11.15 1.38 21.07 7.49 1.53 .92 10.21',
  ],
  [
    'Aarden 2003, Essen',
    '17.7661 .145624 14.9265 .160186 19.8049 11.3587 .291248 22.062 .145624 8.15494 .232998 4.95122',
    '18.2648 .737619 14.0499 16.8599 .702494 14.4362 .702494 18.6161 4.56621 1.93186 7.37619 1.75623',
  ],
  [
    'Albrecht & Shanahan 2013',
    '.238 .006 .111 .006 .137 .094 .016 .214 .009 .080 .008 .081',
    '.220 .006 .104 .123 .019 .103 .012 .214 .062 .022 .061 .052',
  ],
];

test.each(DIGITS)('the digits of %s', (name, major, minor) => {
  const profile = PUBLISHED_PROFILES.find((p) => p.name === name);
  expect(profile?.major).toEqual(major.split(' ').map(Number));
  expect(profile?.minor).toEqual(minor.split(' ').map(Number));
});

/** Percentages add up to 100 within the rounding of their digits, which a wrong digit would upset. */
test('profiles that are percentages add up', () => {
  const sum = (name: string, row: 'major' | 'minor') =>
    PUBLISHED_PROFILES.find((p) => p.name.startsWith(name))?.[row].reduce((a, b) => a + b, 0);
  for (const name of ['Bellmann', 'Aarden']) {
    for (const row of ['major', 'minor'] as const) {
      expect(Math.abs((sum(name, row) ?? 0) - 100), `${name} ${row}`).toBeLessThan(0.1);
    }
  }
});
