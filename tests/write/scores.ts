/** Melodies with places in bars, for the tests of written music. */
import fc from 'fast-check';
import type { Melody, MelodyNote } from '../../src/melody.js';
import { parseNoteName } from '../../src/theory/pitch-names.js';
import { bareMelody } from './melodies.js';

/** Name, bar, beat, written beats. */
export type Written = readonly [name: string, bar: number, beat: number, beats: number];

/**
 * A melody of written notes on a steady beat, half a second long, bar 1 starting at 2 s. Lines start at the
 * notes with these indices.
 */
export function score(
  [beatsPerBar, beatUnit]: readonly [number, 4 | 8],
  notes: readonly Written[],
  more: { readonly lineStarts?: readonly number[]; readonly melody?: Partial<Melody> } = {},
): Melody {
  const lineStarts = more.lineStarts ?? [0];
  const played = notes.map(([name, bar, beat, length], index): Partial<MelodyNote> => {
    const start = 2 + ((bar - 1) * beatsPerBar + beat - 1) / 2;
    const midi = parseNoteName(name)!;
    const line = lineStarts.filter((first) => first <= index).length;
    const finger = ((index % 5) + 1) as 1 | 2 | 3 | 4 | 5;
    return {
      name,
      midi,
      pitch: midi,
      start,
      end: start + length / 2,
      bar,
      beat,
      beats: length,
      line,
      finger,
    };
  });
  const beats = Array.from({ length: 2 * Math.ceil(played.at(-1)!.end!) + 2 }, (_, i) => i / 2);
  return bareMelody(played, {
    tempo: { bpm: 120, beats },
    meter: { beatsPerBar, beatUnit, firstDownbeat: 2 },
    lines: lineStarts.map((first, i) => ({
      start: played[first]!.start!,
      end: played[(lineStarts[i + 1] ?? notes.length) - 1]!.end!,
      first: first + 1,
      last: lineStarts[i + 1] ?? notes.length,
      like: null,
    })),
    ...more.melody,
  });
}

/** Notes after each other, null for rests, from a beat of a bar on: places worked out by adding lengths. */
export function inARow(
  beatsPerBar: number,
  [bar, beat]: readonly [number, number],
  lengths: readonly (readonly [name: string | null, beats: number])[],
): Written[] {
  let at = (bar - 1) * beatsPerBar + beat - 1;
  return lengths.flatMap(([name, beats]): Written[] => {
    // A third of a beat is no binary fraction: sums are brought back to the nearest twelfth.
    const start = Math.round(at * 12) / 12;
    at = start + beats;
    const barIndex = Math.floor(start / beatsPerBar);
    return name === null ? [] : [[name, barIndex + 1, start - barIndex * beatsPerBar + 1, beats]];
  });
}

const NAMES = ['E3', 'C4', 'C#4', 'Db4', 'E4', 'F4', 'F#4', 'G4', 'Ab4', 'A4', 'Bb4', 'B4', 'C5', 'E5'];
const METERS: readonly (readonly [number, 4 | 8])[] = [
  [2, 4],
  [3, 4],
  [4, 4],
  [5, 4],
  [6, 4],
  [6, 8],
  [9, 8],
  [12, 8],
  [7, 8],
];

/** Scores in many metres, each beat cut in up to four or in three, notes up to 9 beats long, with and without pickups. */
export const scores: fc.Arbitrary<Melody> = fc
  .record({
    meter: fc.constantFrom(...METERS),
    pickup: fc.integer({ min: 0, max: 11 }),
    beats: fc.array(
      fc.oneof(
        fc.record({ parts: fc.constant(4), onsets: fc.subarray([0, 1, 2, 3]) }),
        fc.record({ parts: fc.constant(3), onsets: fc.subarray([0, 1, 2]) }),
      ),
      { minLength: 1, maxLength: 20 },
    ),
    names: fc.array(fc.constantFrom(...NAMES), { minLength: 1, maxLength: 12 }),
    shares: fc.array(fc.constantFrom(0.3, 0.5, 1, 1, 1), { minLength: 1, maxLength: 7 }),
    lines: fc.integer({ min: 1, max: 9 }),
  })
  .map(({ meter, pickup, beats, names, shares, lines }) => {
    const first = -Math.min(pickup, meter[0] - 1);
    const found = beats.flatMap(({ parts, onsets }, i) => onsets.map((onset) => first + i + onset / parts));
    const starts = found.length === 0 ? [0] : found;
    const notes = starts.map((start, index): Written => {
      const room = Math.min((starts[index + 1] ?? start + 1) - start, 9);
      // A shorter note leaves a silence, in parts that the grid has.
      const share = shares[index % shares.length]!;
      const parts = beats[Math.floor(start - first + 1e-9)]?.parts ?? 4;
      const untilBeat = Math.floor(start + 1e-9) + 1 - start;
      const short = Math.max(1, Math.floor(Math.min(room, untilBeat) * share * parts + 1e-9)) / parts;
      const beatCount = share === 1 ? room : short;
      const bar = Math.floor(start / meter[0] + 1e-9);
      return [names[index % names.length]!, bar + 1, start - bar * meter[0] + 1, beatCount];
    });
    return score(meter, notes, { lineStarts: notes.map((_, i) => i).filter((i) => i % lines === 0) });
  });
