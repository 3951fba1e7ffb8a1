import fc from 'fast-check';
import { expect, test } from 'vitest';
import { transposeMelody } from '../../src/pipeline/transpose.js';
import { moveByInterval } from '../../src/theory/moves.js';
import type { Key } from '../../src/theory/types.js';
import { melodies } from '../write/melodies.js';

const move = (key: Key, semitones: number) => moveByInterval(key, String(semitones))!;
const keyOf = ({ scales: [best] }: { scales: readonly Key[] }): Key => ({
  tonic: best?.tonic ?? 'C',
  mode: best?.mode ?? 'major',
});

test('there and back changes nothing', () => {
  fc.assert(
    fc.property(melodies, fc.integer({ min: -12, max: 12 }), (some, semitones) => {
      fc.pre(some.notes.every(({ midi }) => midi >= 12 && midi <= 115));
      // The melody as this stage dresses it, so that names, fingers and scales are the program's own.
      const start = transposeMelody(some, move(keyOf(some), 0), 'medium');
      const there = transposeMelody(start, move(keyOf(start), semitones), 'medium');
      const back = transposeMelody(there, { key: keyOf(start), semitones: -semitones }, 'medium');
      expect(back.notes.map(({ pitch: _, ...note }) => note)).toEqual(
        start.notes.map(({ pitch: _, ...note }) => note),
      );
      for (const [i, { pitch }] of back.notes.entries()) expect(pitch).toBeCloseTo(start.notes[i]!.pitch, 9);
      expect(back.scales.map(({ tonic, mode }) => `${tonic} ${mode}`)).toEqual(
        start.scales.map(({ tonic, mode }) => `${tonic} ${mode}`),
      );
      expect({ ...back, notes: [], scales: [] }).toEqual({ ...start, notes: [], scales: [] });
    }),
    { numRuns: 60 },
  );
});

test('every note moves alike, with its doubt, and the key asked for is named first', () => {
  fc.assert(
    fc.property(melodies, fc.integer({ min: -12, max: 12 }), (melody, semitones) => {
      fc.pre(melody.notes.every(({ midi }) => midi >= 12 && midi <= 115));
      const { key } = move(keyOf(melody), semitones);
      const moved = transposeMelody(melody, { key, semitones }, 'medium');
      expect(keyOf(moved)).toEqual(key);
      moved.notes.forEach((note, i) => {
        const before = melody.notes[i]!;
        expect(note.midi - before.midi).toBe(semitones);
        expect(note.other === null ? null : note.other - semitones).toBe(before.other);
        expect([note.start, note.end, note.line, note.bar, note.beat]).toEqual([
          before.start,
          before.end,
          before.line,
          before.bar,
          before.beat,
        ]);
      });
    }),
    { numRuns: 40 },
  );
});

test('the band moves with the melody', () => {
  const [melody] = fc.sample(melodies, { numRuns: 1, seed: 1 });
  const shares = (at: number) => Array.from({ length: 12 }, (_, i) => (i === at ? 1 : 0));
  const low = { ...melody!, notes: melody!.notes.map((note) => ({ ...note, midi: 60, other: null })) };
  const start = { ...low, harmony: { chroma: shares(0), bass: shares(11) } };
  const { harmony } = transposeMelody(start, move(keyOf(start), 2), 'medium');
  expect(harmony).toEqual({ chroma: shares(2), bass: shares(1) });
});
