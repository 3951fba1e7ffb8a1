/** Tunes for the tests of grades. */
import fc from 'fast-check';
import type { GradedMelody } from '../../src/hand/grade/features.js';

export interface Told {
  readonly midi: number;
  /** Seconds. */
  readonly length?: number;
  readonly rest?: number;
  readonly newLine?: boolean;
  readonly confidence?: number;
  readonly beat?: number;
  readonly beats?: number;
}

/** Notes one after the other from second 0, in lines. */
export function melodyOf(told: readonly Told[], more: Partial<GradedMelody> = {}): GradedMelody {
  let time = 0;
  let line = 1;
  const notes = told.map(({ midi, length = 1, rest = 0, newLine = false, ...own }, i) => {
    if (newLine && i > 0) line++;
    const start = time;
    time += length + rest;
    const { confidence = 1, beat = null, beats = null } = own;
    return { start, end: start + length, midi, confidence, line, beat, beats };
  });
  const lines = Array.from({ length: line }, (_, i) => {
    const first = notes.findIndex((note) => note.line === i + 1);
    const last = notes.findLastIndex((note) => note.line === i + 1);
    return {
      start: notes[first]!.start,
      end: notes[last]!.end,
      first: first + 1,
      last: last + 1,
      like: null,
    };
  });
  return {
    notes,
    lines,
    meter: { beatsPerBar: null, beatUnit: null, firstDownbeat: null },
    hand: [{ first: 1, thumb: 60 }],
    ...more,
  };
}

export const keys = (...midis: number[]): Told[] => midis.map((midi) => ({ midi }));
/** Tunes of 1 to 40 notes in lines; hands that move somewhere. */
export const tunes: fc.Arbitrary<GradedMelody> = fc
  .record({
    told: fc.array(
      fc.record({
        midi: fc.integer({ min: 55, max: 79 }),
        length: fc.double({ min: 0.05, max: 2, noNaN: true }),
        rest: fc.double({ min: 0, max: 1, noNaN: true }),
        newLine: fc.nat(7).map((die) => die === 0),
        confidence: fc.double({ min: 0, max: 1, noNaN: true }),
        beat: fc.constantFrom(1, 1.5, 2.25, 3, 4.75),
        beats: fc.constantFrom(0.25, 0.5, 1, 2),
      }),
      { minLength: 1, maxLength: 40 },
    ),
    moves: fc.array(fc.integer({ min: 2, max: 40 }), { maxLength: 6 }),
  })
  .map(({ told, moves }) => {
    const firsts = [...new Set([1, ...moves.filter((first) => first <= told.length)])];
    return melodyOf(told, { hand: firsts.map((first) => ({ first, thumb: 60 })) });
  });

/** Each time by another that `move` gives. */
export function retimed(tune: GradedMelody, move: (seconds: number) => number): GradedMelody {
  const both = ({ start, end }: { start: number; end: number }) => ({ start: move(start), end: move(end) });
  return {
    ...tune,
    notes: tune.notes.map((note) => ({ ...note, ...both(note) })),
    lines: tune.lines.map((line) => ({ ...line, ...both(line) })),
  };
}
