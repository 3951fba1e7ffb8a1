import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { noteName, parseNoteName } from '../../src/theory/pitch-names.js';
import { spellLine } from '../../src/theory/spell-line.js';
import { MODES } from '../../src/theory/tonal-tables.js';
import type { Key } from '../../src/theory/types.js';

const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const spelt = (key: Key, midis: readonly number[]): string => spellLine(midis, key).join(' ');

describe('spellLine', () => {
  test.each([
    ['a note that rises by a semitone is raised', 'C', [60, 61, 62, 63, 64], 'C4 C#4 D4 D#4 E4'],
    ['one that falls is lowered', 'C', [64, 63, 62, 61, 60], 'E4 Eb4 D4 Db4 C4'],
    ['the note under its neighbour is raised', 'C', [67, 66, 67, 69, 68, 69], 'G4 F#4 G4 A4 G#4 A4'],
    ['the note over its neighbour is lowered', 'C', [67, 68, 67, 62, 63, 62], 'G4 Ab4 G4 D4 Eb4 D4'],
    ['between two whole tones it is the lowered seventh', 'C', [69, 70, 72], 'A4 Bb4 C5'],
    ['leaps take the simpler interval', 'C', [60, 63, 60, 64, 68, 71], 'C4 Eb4 C4 E4 G#4 B4'],
    ['repeated notes are spelt alike', 'C', [60, 61, 61, 61, 62], 'C4 C#4 C#4 C#4 D4'],
    ['the raised fifth of A is no F', 'A', [66, 65, 66], 'F#4 E#4 F#4'],
    ['the lowered seventh of Db is no B', 'Db', [61, 59, 56], 'Db4 Cb4 Ab3'],
    ['a note that rises in a sharp key may need two sharps', 'E', [66, 67, 68], 'F#4 F##4 G#4'],
    ['one that is leapt to does not', 'E', [64, 67, 71], 'E4 G4 B4'],
    ['E sharp is not written far from its keys', 'G', [64, 65, 66], 'E4 F4 F#4'],
  ])('%s', (_, tonic, midis, expected) => {
    expect(spelt(major(tonic), midis)).toBe(expected);
  });

  test('notes of the scale and of the other minors are never respelt', () => {
    expect(spelt({ tonic: 'A', mode: 'minor' }, [69, 68, 67, 66, 65, 64])).toBe('A4 G#4 G4 F#4 F4 E4');
    expect(spelt({ tonic: 'G#', mode: 'minor' }, [68, 67, 68])).toBe('G#4 F##4 G#4');
    expect(spelt({ tonic: 'C#', mode: 'dorian' }, [61, 60, 61])).toBe('C#4 B#3 C#4');
  });

  test('pentatonics spell the notes they leave out as their major or minor does', () => {
    expect(spelt({ tonic: 'F#', mode: 'major pentatonic' }, [66, 65, 70])).toBe('F#4 E#4 A#4');
    expect(spelt({ tonic: 'Eb', mode: 'minor pentatonic' }, [63, 71, 70])).toBe('Eb4 Cb5 Bb4');
  });

  test('one note alone has the name of the key; no note has none', () => {
    expect(spellLine([66], major('C'))).toEqual([noteName(66, major('C'))]);
    expect(spellLine([], major('C'))).toEqual([]);
  });

  test('every name is that of its key, with two sharps or flats at most', () => {
    const key = fc.record({
      tonic: fc.constantFrom('C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'G#', 'Ab', 'A', 'Bb', 'B'),
      mode: fc.constantFrom(...MODES),
    });
    const midis = fc.array(fc.integer({ min: 2, max: 125 }), { maxLength: 30 });
    fc.assert(
      fc.property(midis, key, (line, k) => {
        expect(spellLine(line, k).map(parseNoteName)).toEqual(line);
      }),
    );
  });
});
