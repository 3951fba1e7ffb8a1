/** Modal tunes as semitones above the tonic, with their ends of lines; in any key, and with their telling note in doubt. */
import { expect, test } from 'vitest';
import { pitchClassNamed, rankedAt } from './modal-tunes.js';

test.each([
  // Traditional, France (a carol of about 1500), from memory.
  [
    'Noël nouvelet',
    'dorian',
    [
      [0, 7, 9, 7, 5, 3, 2, 0],
      [0, 7, 9, 7, 5, 3, 2, 0],
      [7, 5, 7, 9, 7, 5, 3, 5],
      [0, 7, 9, 7, 5, 3, 2, 0],
    ],
    9,
  ],
  // Traditional, United States, from memory: the turn of the tune on the lowered seventh.
  [
    'Old Joe Clark',
    'mixolydian',
    [
      [7, 9, 10, 9, 7, 4, 5, 7],
      [7, 9, 10, 9, 7, 4],
      [7, 9, 10, 9, 7, 4, 5, 7],
      [4, 5, 4, 2, 0],
    ],
    10,
  ],
  // Ours.
  [
    'Reeds',
    'dorian',
    [
      [0, 2, 3, 5, 7, 5, 3, 0],
      [7, 9, 10, 9, 7, 5, 3, 2],
      [0, 2, 3, 5, 7, 9, 7, 5],
      [3, 2, 0, -2, 0],
    ],
    9,
  ],
  // Ours: the sixth of the natural minor.
  [
    'Rain',
    'minor',
    [
      [0, 2, 3, 5, 7, 5, 3, 0],
      [7, 8, 10, 8, 7, 5, 3, 2],
      [0, 2, 3, 5, 7, 8, 7, 5],
      [3, 2, 0, -2, 0],
    ],
    8,
  ],
] as const)(
  '%s is %s in several keys, also where its telling note is in doubt',
  (_, mode, lines, telling) => {
    for (let tonic = 55; tonic < 67; tonic += 5) {
      for (const confidence of [1, 0.7]) {
        const first = rankedAt(lines, tonic, telling, confidence)[0]!;
        expect([pitchClassNamed(first.tonic), first.mode]).toEqual([tonic % 12, mode]);
      }
    }
  },
);
