import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { keySignature } from '../../src/theory/key-signature.js';
import { moveByInterval, moveToTonic, practiceTonics, withinRange } from '../../src/theory/moves.js';
import { nameParts } from '../../src/theory/tonal-tables.js';
import type { Key } from '../../src/theory/types.js';

const F: Key = { tonic: 'F', mode: 'major' };
const tonics = fc.constantFrom('C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B');
const modes = fc.constantFrom<Key['mode']>('major', 'minor', 'dorian', 'major pentatonic');

describe('to a tonic', () => {
  test.each([
    ['G', 2],
    ['Bb', 5],
    ['B', -6],
    ['C', -5],
    ['F', 0],
  ])('F major to %s is %i semitones', (tonic, semitones) => {
    expect(moveToTonic(F, tonic)).toEqual({ key: { tonic, mode: 'major' }, semitones });
  });

  test('a key that cannot be written comes back under its usual name', () => {
    expect(moveToTonic(F, 'G#').key).toEqual({ tonic: 'Ab', mode: 'major' });
  });

  test('there and back is no move, or an octave from one tritone to the next', () => {
    fc.assert(
      fc.property(tonics, tonics, modes, (from, to, mode) => {
        const there = moveToTonic({ tonic: from, mode }, to);
        const back = moveToTonic(there.key, from);
        expect([0, -12]).toContain(there.semitones + back.semitones);
        expect(there.semitones).toBeGreaterThanOrEqual(-6);
        expect(there.semitones).toBeLessThanOrEqual(5);
      }),
    );
  });
});

describe('by an interval', () => {
  test.each([
    ['m3', 'Ab', 3],
    ['-M2', 'Eb', -2],
    ['A4', 'B', 6],
    ['d5', 'Cb', 6],
    ['P8', 'F', 12],
    ['-P8', 'F', -12],
    ['2', 'G', 2],
    ['-13', 'E', -13],
    ['12', 'F', 12],
    ['+1', 'Gb', 1],
  ])('F major by %s is %s major, %i semitones', (interval, tonic, semitones) => {
    expect(moveByInterval(F, interval)).toEqual({ key: { tonic, mode: 'major' }, semitones });
  });

  test.each(['', 'x', 'M5', 'P3', 'm', '3m', '1.5', '--2', 'H2'])('"%s" is none', (text) => {
    expect(moveByInterval(F, text)).toBeNull();
  });
});

describe('within a range', () => {
  const notes = [60, 64, 67];

  test('the move nearest to where the notes lie is taken', () => {
    expect(withinRange({ key: F, semitones: 5 }, notes, { lowest: 60, highest: 84 })?.semitones).toBe(5);
    expect(withinRange({ key: F, semitones: -7 }, notes, { lowest: 60, highest: 84 })?.semitones).toBe(5);
    expect(withinRange({ key: F, semitones: 5 }, notes, { lowest: 72, highest: 96 })?.semitones).toBe(17);
  });

  test('what cannot fit is null', () => {
    expect(withinRange({ key: F, semitones: 0 }, notes, { lowest: 61, highest: 67 })).toBeNull();
  });

  test('the octave changes and the key does not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -24, max: 24 }),
        fc.integer({ min: 30, max: 80 }),
        (semitones, lowest) => {
          const found = withinRange({ key: F, semitones }, notes, { lowest, highest: lowest + 19 });
          // Twelve semitones of room beyond the notes' seven hold every pitch class.
          expect(Math.abs(found!.semitones - semitones) % 12).toBe(0);
          expect(60 + found!.semitones).toBeGreaterThanOrEqual(lowest);
          expect(67 + found!.semitones).toBeLessThanOrEqual(lowest + 19);
        },
      ),
    );
  });
});

describe('a way through the keys', () => {
  // Common practice: the circle of fifths, from the key without sharps or flats outwards.
  test.each<[Key['mode'], string]>([
    ['major', 'C G F D Bb A Eb E Ab B Db Gb'],
    ['minor', 'A E D B G F# C C# F G# Bb Eb'],
    ['dorian', 'D A G E C B F F# Bb C# Eb Ab'],
  ])('%s: %s', (mode, order) => {
    expect(practiceTonics({ tonic: 'E', mode }, 12).join(' ')).toBe(order);
  });

  test('all keys differ, and none has fewer accidentals than the one before', () => {
    fc.assert(
      fc.property(tonics, modes, fc.integer({ min: 2, max: 12 }), (tonic, mode, count) => {
        const names = practiceTonics({ tonic, mode }, count);
        const accidentals = names.map((name) => Math.abs(keySignature({ tonic: name, mode })));
        expect(new Set(names.map((name) => nameParts(name)!.pitchClass)).size).toBe(count);
        expect(accidentals).toEqual([...accidentals].sort((a, b) => a - b));
        expect(accidentals.at(-1)).toBe(Math.floor(count / 2));
      }),
    );
  });

  test.each([1, 13, Number.NaN])('%d keys are refused', (count) => {
    expect(() => practiceTonics(F, count)).toThrow(RangeError);
  });
});
