import { expect, test } from 'vitest';
import {
  fifthsOfName,
  isMinor,
  keySignature,
  nameOfFifths,
  usualTonic,
  writableKey,
} from '../../src/theory/key-signature.js';
import { MODES, nameParts } from '../../src/theory/tonal-tables.js';

test('names and places on the line of fifths are inverse', () => {
  for (let fifths = -15; fifths <= 19; fifths++) expect(fifthsOfName(nameOfFifths(fifths))).toBe(fifths);
});

test('modes take the signature of the major scale with their notes', () => {
  for (const [tonic, mode] of [
    ['D', 'dorian'],
    ['E', 'phrygian'],
    ['F', 'lydian'],
    ['G', 'mixolydian'],
    ['A', 'minor'],
    ['A', 'harmonic minor'],
    ['B', 'locrian'],
    ['C', 'major pentatonic'],
    ['A', 'blues'],
  ] as const) {
    expect(keySignature({ tonic, mode }), `${tonic} ${mode}`).toBe(0);
  }
});

test('keys beyond seven accidentals are written as their enharmonic equal', () => {
  expect(keySignature({ tonic: 'G#', mode: 'major' })).toBe(-4);
  expect(keySignature({ tonic: 'Fb', mode: 'major' })).toBe(4);
  expect(writableKey({ tonic: 'D#', mode: 'major' })).toEqual({ tonic: 'Eb', mode: 'major' });
  expect(writableKey({ tonic: 'C#', mode: 'major' })).toEqual({ tonic: 'C#', mode: 'major' });
});

test('the usual tonic is the pitch class it names, with six accidentals at most', () => {
  for (const mode of MODES) {
    for (let pc = 0; pc < 12; pc++) {
      const tonic = usualTonic(pc, mode);
      expect(nameParts(tonic)?.pitchClass).toBe(pc);
      expect(Math.abs(keySignature({ tonic, mode }))).toBeLessThanOrEqual(6);
    }
  }
});

test('a mode counts as minor by its third', () => {
  expect(MODES.filter((mode) => !isMinor(mode))).toEqual([
    'major',
    'mixolydian',
    'major pentatonic',
    'lydian',
  ]);
});
