import { describe, expect, test } from 'vitest';
import { keyRegions, mainScales } from '../../src/theory/regions.js';
import { rankScales, type ScaleEvidence } from '../../src/theory/scales.js';
import type { Key } from '../../src/theory/types.js';

const TUNE = [60, 62, 64, 65, 67, 64, 62, 60, 67, 69, 71, 72, 71, 69, 67, 65, 64, 62, 59, 60];

function verse(shift: number, repeats: number): ScaleEvidence[] {
  return Array.from({ length: repeats }, () =>
    TUNE.map((midi, i) => ({ midi: midi + shift, weight: 1, lineEnd: i % 10 === 9, confidence: 1 })),
  ).flat();
}

const bestOf = (notes: readonly ScaleEvidence[]) =>
  keyRegions(notes).map(({ first, last, scales }) => [first, last, scales[0]?.tonic, scales[0]?.mode]);

describe('keyRegions', () => {
  test('a song in one key is one region', () => {
    expect(bestOf(verse(0, 3))).toEqual([[1, 60, 'C', 'major']]);
  });

  test.each([
    [1, 'Db'],
    [2, 'D'],
  ])('a last chorus %i semitones up is a region of its own', (step, tonic) => {
    expect(bestOf([...verse(0, 3), ...verse(step, 2)])).toEqual([
      [1, 60, 'C', 'major'],
      [61, 100, tonic, 'major'],
    ]);
  });

  test('notes outside the key of a later region are numbered from the first note of the melody', () => {
    const up = verse(1, 3).map((note, i) => (i === 4 ? { ...note, midi: note.midi + 1 } : note));
    const regions = keyRegions([...verse(0, 3), ...up]);
    expect(regions.at(-1)?.scales[0]?.outsideAt.map((o) => o.numbers)).toEqual([[65]]);
  });

  test('one foreign note changes no key, and without notes there is no region', () => {
    const notes = verse(0, 2).map((note, i) => (i === 20 ? { ...note, midi: 61 } : note));
    expect(keyRegions(notes)).toHaveLength(1);
    expect(keyRegions([])).toEqual([]);
  });
});

describe('the ranking that stands for a melody', () => {
  const notes = [...verse(0, 3), ...verse(2, 2)];
  const firstOf = (given: Key | null) => mainScales(notes, keyRegions(notes), given, null)[0];

  test('is that of the region that sounds longest where the key changes, not of both together', () => {
    expect(firstOf(null)).toMatchObject({ tonic: 'C', mode: 'major', outside: [] });
    expect(rankScales(notes)[0]?.outside).not.toEqual([]);
  });

  test('is that of all notes where the key was given', () => {
    expect(firstOf({ tonic: 'A', mode: 'minor' })).toMatchObject({ tonic: 'A', mode: 'minor' });
  });
});
