/** Melodies for the tests of guides, as literals: nothing is measured. */
import type { Melody, MelodyNote } from '../../../src/melody.js';

export interface Told {
  readonly midi: number;
  /** Seconds. */
  readonly start: number;
  readonly length: number;
  readonly line?: number;
  readonly beat?: number | null;
}

/** A melody of these notes; with `beatSeconds`, in bars of `beatsPerBar` that begin at 0. */
export function melodyOf(
  told: readonly Told[],
  { beatSeconds, beatsPerBar = 4 }: { beatSeconds?: number; beatsPerBar?: number } = {},
): Melody {
  const notes = told.map(({ midi, start, length, line = 1 }): MelodyNote => {
    const beats = beatSeconds === undefined ? null : start / beatSeconds;
    return {
      start,
      end: start + length,
      midi,
      pitch: midi,
      confidence: 1,
      other: null,
      name: 'C4',
      line,
      finger: 1,
      bar: beats === null ? null : Math.floor(beats / beatsPerBar) + 1,
      beat: beats === null ? null : (beats % beatsPerBar) + 1,
      beats: beatSeconds === undefined ? null : length / beatSeconds,
    };
  });
  const count = Math.max(...notes.map(({ line }) => line));
  const seconds = notes.at(-1)!.end + 1;
  const beats = beatSeconds === undefined ? [] : Array.from({ length: 200 }, (_, i) => i * beatSeconds);
  return {
    recording: { seconds, heardAs: null },
    tuningCents: 0,
    tempo: { bpm: beatSeconds === undefined ? null : 60 / beatSeconds, beats },
    meter:
      beatSeconds === undefined
        ? { beatsPerBar: null, beatUnit: null, firstDownbeat: null }
        : { beatsPerBar, beatUnit: 4, firstDownbeat: 0 },
    notes,
    lines: Array.from({ length: count }, (_, i) => {
      const of = notes.filter(({ line }) => line === i + 1);
      return {
        start: of[0]!.start,
        end: of.at(-1)!.end,
        first: notes.indexOf(of[0]!) + 1,
        last: notes.indexOf(of.at(-1)!) + 1,
        like: null,
      };
    }),
    sections: [],
    scales: [],
    grade: { level: 1, reasons: [], parts: [] },
  };
}

/** Two lines of four notes, half a second each, the second a bar and a half after the first. */
export const TWO_LINES: readonly Told[] = [
  ...[60, 62, 64, 60].map((midi, i) => ({ midi, start: 4 + 0.5 * i, length: 0.5, line: 1 })),
  ...[67, 65, 64, 62].map((midi, i) => ({ midi, start: 7 + 0.5 * i, length: 0.5, line: 2 })),
];
