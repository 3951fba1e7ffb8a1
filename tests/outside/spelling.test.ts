/**
 * Spellings against what theory handbooks print. The circle of fifths and the scale tables are common practice,
 * the same in every handbook; they are typed in from memory, not computed.
 */
import { describe, expect, test } from 'vitest';
import { keySignature } from '../../src/theory/key-signature.js';
import { noteName, parseNoteName } from '../../src/theory/pitch-names.js';
import { midiToHz } from '../../src/units.js';

describe('circle of fifths', () => {
  test.each([
    [-7, 'Cb', 'Ab'],
    [-6, 'Gb', 'Eb'],
    [-5, 'Db', 'Bb'],
    [-4, 'Ab', 'F'],
    [-3, 'Eb', 'C'],
    [-2, 'Bb', 'G'],
    [-1, 'F', 'D'],
    [0, 'C', 'A'],
    [1, 'G', 'E'],
    [2, 'D', 'B'],
    [3, 'A', 'F#'],
    [4, 'E', 'C#'],
    [5, 'B', 'G#'],
    [6, 'F#', 'D#'],
    [7, 'C#', 'A#'],
  ])('%i: %s major and %s minor', (fifths, major, minor) => {
    expect(keySignature({ tonic: major, mode: 'major' })).toBe(fifths);
    expect(keySignature({ tonic: minor, mode: 'minor' })).toBe(fifths);
  });
});

/** Scientific pitch notation: C4 is middle C, A4 the 440 Hz of ISO 16:1975, MIDI 60 and 69 (MIDI 1.0, from memory). */
test('scientific pitch notation', () => {
  expect(parseNoteName('C4')).toBe(60);
  expect(midiToHz(parseNoteName('A4') ?? 0)).toBe(440);
  // The piano's 88 keys run from A0 to C8 (common practice): MIDI 21 to 108.
  expect([noteName(21), noteName(108)]).toEqual(['A0', 'C8']);
  // The octave number changes between B and C, by letter: Cb4 is B3, B#3 is C4.
  expect(parseNoteName('Cb4')).toBe(parseNoteName('B3'));
  expect(parseNoteName('B#3')).toBe(parseNoteName('C4'));
});

/** The raised seventh of the minor keys as printed, double sharps included (common practice). */
test.each([
  ['A', 68, 'G#'],
  ['E', 63, 'D#'],
  ['B', 70, 'A#'],
  ['F#', 65, 'E#'],
  ['C#', 60, 'B#'],
  ['G#', 67, 'F##'],
  ['D#', 62, 'C##'],
  ['D', 61, 'C#'],
  ['G', 66, 'F#'],
  ['C', 71, 'B'],
  ['F', 64, 'E'],
  ['Bb', 69, 'A'],
  ['Eb', 62, 'D'],
])('the leading note of %s minor', (tonic, midi, expected) => {
  expect(noteName(midi, { tonic, mode: 'minor' }).replace(/-?\d+$/, '')).toBe(expected);
});
