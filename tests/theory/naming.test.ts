import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { degreeClass, degreeName, homeOf, parseDegree } from '../../src/theory/degrees.js';
import { nameSystemOf } from '../../src/theory/name-systems.js';
import { classNameOf, ENGLISH, type Naming, nameIn, parseNoteIn } from '../../src/theory/naming.js';
import { noteName } from '../../src/theory/pitch-names.js';

const GERMAN: Naming = { system: 'german' };
const SOLFEGE: Naming = { system: 'solfège' };
const inC: Naming = { system: 'degrees', home: { tonic: 'C', octave: 4 } };

describe('nameIn', () => {
  test.each([
    ['B4', 'H4', 'si4'],
    ['Bb4', 'B4', 'si♭4'],
    ['F#3', 'Fis3', 'fa♯3'],
    ['Eb5', 'Es5', 'mi♭5'],
    ['Ab-1', 'As-1', 'la♭-1'],
    ['Gb', 'Ges', 'sol♭'],
    ['F##', 'Fisis', 'fa♯♯'],
    ['B#', 'His', 'si♯'],
    ['Cb', 'Ces', 'do♭'],
    ['D', 'D', 're'],
  ])('%s is %s in German and %s in solfège', (name, german, solfege) => {
    expect(nameIn(name, GERMAN)).toBe(german);
    expect(nameIn(name, SOLFEGE)).toBe(solfege);
    expect(nameIn(name, ENGLISH)).toBe(name);
  });

  test('refuses what is no name', () => {
    expect(() => nameIn('H4', GERMAN)).toThrow(RangeError);
  });
});

describe('parseNoteIn', () => {
  test.each([
    ['H3', GERMAN, 59],
    ['B3', GERMAN, 58],
    ['b3', GERMAN, 58],
    ['fis4', GERMAN, 66],
    ['F#4', GERMAN, 66],
    ['F♯4', GERMAN, 66],
    ['As4', GERMAN, 68],
    ['Ases4', GERMAN, 67],
    ['si♭3', SOLFEGE, 58],
    ['Sib3', SOLFEGE, 58],
    ['ré4', SOLFEGE, 62],
    ['SOL#4', SOLFEGE, 68],
    ['do-1', SOLFEGE, 0],
    ['♭3', inC, 63],
    ['b3', inC, 63],
    ['5↓', inC, 55],
    ['5,', inC, 55],
    ["1'", inC, 72],
    ['#4', inC, 66],
    ['Bb3', ENGLISH, 58],
  ])('reads %s', (text, naming, midi) => {
    expect(parseNoteIn(text, naming)).toBe(midi);
  });

  test.each([
    ['Bb3', GERMAN],
    ['B♭3', GERMAN],
    ['Fiss4', GERMAN],
    ['H', GERMAN],
    ['C4', SOLFEGE],
    ['sol', SOLFEGE],
    ['8', inC],
    ['0', inC],
    ['C4', inC],
    ['1↑↓', inC],
    ['1↑↑↑↑↑↑↑', inC],
    ['1,,,,,,', inC],
    ['', SOLFEGE],
  ])('refuses "%s"', (text, naming) => {
    expect(parseNoteIn(text, naming)).toBeNull();
  });

  test('reads what nameIn writes, in every system', () => {
    const key = fc.record({
      tonic: fc.constantFrom('C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'G#', 'Ab', 'A', 'Bb', 'B'),
      mode: fc.constantFrom('major' as const, 'minor' as const, 'harmonic minor' as const),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 125 }),
        key,
        fc.integer({ min: 1, max: 6 }),
        (midi, k, octave) => {
          const degrees: Naming = { system: 'degrees', home: { tonic: k.tonic, octave } };
          for (const naming of [ENGLISH, GERMAN, SOLFEGE, degrees]) {
            expect(parseNoteIn(nameIn(noteName(midi, k), naming), naming)).toBe(midi);
          }
        },
      ),
    );
  });
});

test('classNameOf reads names without octave', () => {
  expect(['B', 'h', 'es', 'Hes'].map((word) => classNameOf(word, 'german'))).toEqual(['Bb', 'B', 'Eb', 'Bb']);
  expect(['fa♯', 'Lab', 'ut'].map((word) => classNameOf(word, 'solfège'))).toEqual(['F#', 'Ab', null]);
  expect(['bb', 'F♯', 'Fx', 'H', 'F4'].map((word) => classNameOf(word, 'english'))).toEqual([
    'Bb',
    'F#',
    'F##',
    null,
    null,
  ]);
});

test('a system is named with or without its accent', () => {
  expect(nameSystemOf('Solfege')).toBe('solfège');
  expect(nameSystemOf('solfe\u0300ge')).toBe('solfège');
  expect(nameSystemOf('German')).toBe('german');
  expect(nameSystemOf('french')).toBeNull();
});

describe('degrees', () => {
  test('the letter decides the number, the major scale the sign', () => {
    const inA = { tonic: 'A', octave: 4 };
    const names = ['A', 'B', 'C', 'C#', 'D', 'D#', 'Eb', 'E', 'F', 'F#', 'G', 'G#'];
    expect(names.map((name) => degreeName(name, null, inA)).join(' ')).toBe('1 2 ♭3 3 4 ♯4 ♭5 5 ♭6 6 ♭7 7');
  });

  test('arrows count octaves from the home tonic', () => {
    const inF = { tonic: 'F', octave: 4 };
    expect(degreeName('C', 4, inF)).toBe('5↓');
    expect(degreeName('F', 4, inF)).toBe('1');
    expect(degreeName('E', 5, inF)).toBe('7');
    expect(degreeName('F', 5, inF)).toBe('1↑');
    expect(degreeName('E', 3, inF)).toBe('7↓↓');
    expect(parseDegree('7↓↓', inF)).toBe(52);
  });

  test('a degree without its octave is a name', () => {
    expect(degreeClass('b3', { tonic: 'F' })).toBe('Ab');
    expect(degreeClass('♯4', { tonic: 'Gb' })).toBe('C');
    expect(degreeClass('9', { tonic: 'F' })).toBeNull();
  });

  test('home is the octave that holds most of the notes', () => {
    expect(homeOf('G', [62, 67, 71, 74, 67])).toEqual({ tonic: 'G', octave: 4 });
    expect(homeOf('Cb', [59, 61, 63])).toEqual({ tonic: 'Cb', octave: 4 });
    expect(homeOf('C', [48, 60])).toEqual({ tonic: 'C', octave: 3 });
    expect(homeOf('C', [])).toEqual({ tonic: 'C', octave: 4 });
  });
});
