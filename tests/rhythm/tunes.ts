/** Random tunes written on a grid, and exact or loose performances of them. */
import { type Random, seededRandom } from '../../fixtures/maker/random.js';

/** A written note, in quarters from the first downbeat; negative in a pickup. */
export interface Written {
  readonly start: number;
  readonly length: number;
}

/** Bars of four that songs have, in quarters. */
const BARS: readonly (readonly number[])[] = [
  [1, 1, 1, 1],
  [1, 1, 2],
  [1.5, 0.5, 1, 1],
  [2, 1, 0.5, 0.5],
  [0.5, 0.5, 1, 1, 1],
  [1, 0.5, 0.5, 2],
  [0.5, 0.5, 0.5, 0.5, 2],
];

export function tuneOfFours(bars: number, seed: number): Written[] {
  const random = seededRandom(seed);
  const notes: Written[] = [];
  for (let bar = 0; bar < bars; bar++) {
    let at = 4 * bar;
    for (const length of bar % 4 === 3 ? [2, 2] : random.pick(BARS)) {
      notes.push({ start: at, length });
      at += length;
    }
  }
  return notes;
}

/** Pitches of beats, a skip every other beat, and of what is between. */
const PITCHES = { onBeat: [60, 64, 67], between: 62 } as const;

/** Notes at a tempo, the first downbeat at `lead` seconds; onsets off by a normal spread where a generator is given. */
export function sing(
  written: readonly Written[],
  bpm: number,
  lead = 1,
  spreadSeconds = 0,
  random: Random = seededRandom(1),
): { start: number; end: number; midi: number }[] {
  return written.map(({ start, length }) => {
    const onset = lead + (start * 60) / bpm + spreadSeconds * random.gauss();
    const midi = start % 1 === 0 ? PITCHES.onBeat[((((start / 2) % 3) + 3) % 3) | 0]! : PITCHES.between;
    return { start: onset, end: onset + length * (60 / bpm) * 0.95, midi };
  });
}
