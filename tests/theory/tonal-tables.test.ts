import { Note, Scale } from 'tonal';
import { describe, expect, test } from 'vitest';
import { MODES, midiOfName, modeSemitones, nameParts, scaleNotes } from '../../src/theory/tonal-tables.js';
import type { Mode } from '../../src/theory/types.js';

describe('the traps of tonal', () => {
  test('it answers an unknown note with NaN, where the guard says null', () => {
    expect(Note.get('H').chroma).toBeNaN();
    expect(nameParts('H')).toBeNull();
    expect(midiOfName('H4')).toBeNull();
  });

  test('it takes any number of accidentals and octaves beyond the piano, where the guard says null', () => {
    expect(Note.midi('C####4')).toBe(64);
    expect(midiOfName('C####4')).toBeNull();
    expect(nameParts('C####')).toBeNull();
    expect(midiOfName('G#9')).toBeNull();
  });

  test('it answers an unknown scale with an empty list, where the guard throws', () => {
    expect(Scale.get('C nothing').notes).toEqual([]);
    expect(() => scaleNotes('C', 'nothing' as Mode)).toThrow(RangeError);
    expect(() => scaleNotes('H', 'major')).toThrow(RangeError);
    expect(() => modeSemitones('nothing' as Mode)).toThrow(RangeError);
  });

  test('a name with octave is no pitch class, and one without has no MIDI number', () => {
    expect(nameParts('C4')).toBeNull();
    expect(midiOfName('C')).toBeNull();
  });
});

test('every mode rises from the tonic within the octave', () => {
  for (const mode of MODES) {
    const semitones = modeSemitones(mode);
    expect(semitones[0], mode).toBe(0);
    expect(semitones, mode).toEqual([...new Set(semitones)].sort((a, b) => a - b));
    expect(semitones.at(-1), mode).toBeLessThan(12);
  }
});
