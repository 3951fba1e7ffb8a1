import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boundaryScores } from '../../../src/rhythm/lines/boundaries.js';
import type { LineNote } from '../../../src/rhythm/lines/clock.js';
import { linesOf } from '../../../src/rhythm/lines/lines.js';

/** Notes from [MIDI or 0 for a rest, beats] at half a second a beat, detached a little as voices do. */
function sung(events: readonly (readonly [number, number])[]): LineNote[] {
  const notes: LineNote[] = [];
  let beat = 0;
  for (const [midi, beats] of events) {
    if (midi > 0) notes.push({ start: beat * 0.5, end: (beat + beats) * 0.5 - 0.05, midi });
    beat += beats;
  }
  return notes;
}

const LINE_A = [
  [60, 1],
  [60, 1],
  [67, 1],
  [67, 1],
  [69, 1],
  [69, 1],
  [67, 2],
] as const;
const LINE_B = [
  [65, 1],
  [65, 1],
  [64, 1],
  [64, 1],
  [62, 1],
  [62, 1],
  [60, 2],
] as const;
const up = (line: readonly (readonly [number, number])[], by: number): [number, number][] =>
  line.map(([midi, beats]) => [midi + by, beats]);
const firsts = (notes: readonly LineNote[]): number[] => linesOf(notes).map((line) => line.first);

describe('linesOf', () => {
  test('no notes have no lines, one note is one', () => {
    expect(linesOf([])).toEqual([]);
    expect(linesOf([{ start: 1, end: 2, midi: 60 }])).toEqual([
      { start: 1, end: 2, first: 1, last: 1, like: null },
    ]);
  });

  test('a breath of half a second ends a line', () => {
    const rest = [[0, 1]] as const;
    const tune = [60, 64, 62, 65, 64, 60, 59, 62].map((midi) => [midi, 1] as const);
    const other = [67, 65, 69, 64, 66, 71, 60, 70].map((midi) => [midi, 1] as const);
    expect(firsts(sung([...tune, ...rest, ...other, ...rest, ...up(tune, 1)]))).toEqual([1, 9, 17]);
  });

  test('a long note ends a line without any silence, and lines that return are named', () => {
    const lines = linesOf(sung([...LINE_A, ...LINE_B, ...LINE_A, ...up(LINE_B, 5)]));
    expect(lines.map((line) => line.first)).toEqual([1, 8, 15, 22]);
    expect(lines.map((line) => line.last)).toEqual([7, 14, 21, 28]);
    expect(lines.map((line) => line.like)).toEqual([null, null, 1, 2]);
  });

  test('a run of fast notes is not divided', () => {
    const run = Array.from({ length: 16 }, (_, i) => [60 + i, 0.25] as const);
    const slow = [
      [60, 1],
      [62, 1],
      [64, 1],
      [65, 2],
    ] as const;
    const starts = firsts(sung([...slow, ...run, ...up(slow, 7), ...slow]));
    expect(starts.filter((first) => first > 5 && first <= 20)).toEqual([]);
  });

  test('a run longer than any line is divided all the same, and nothing else is lost', () => {
    const run = Array.from({ length: 100 }, (_, i) => [60 + (i % 12), 0.25] as const);
    const lines = linesOf(sung([...LINE_A, [0, 2], ...run, [0, 2], ...LINE_B]));
    expect(lines.map((line) => line.first)).toContain(8);
    expect(lines.map((line) => line.first)).toContain(108);
    expect(Math.max(...lines.map((line) => line.last - line.first + 1))).toBeLessThanOrEqual(30);
  });

  test('every note is in one line, and times are those of the first and last note', () => {
    const event = fc.tuple(fc.integer({ min: 0, max: 72 }), fc.constantFrom(0.25, 0.5, 1, 2, 4));
    fc.assert(
      fc.property(fc.array(event, { maxLength: 80 }), (events) => {
        const notes = sung(events);
        const lines = linesOf(notes);
        expect(
          lines.flatMap((l) => Array.from({ length: l.last - l.first + 1 }, (_, i) => l.first + i)),
        ).toEqual(notes.map((_, i) => i + 1));
        lines.forEach((l, i) => {
          expect(l.start).toBe(notes[l.first - 1]?.start);
          expect(l.end).toBe(notes[l.last - 1]?.end);
          if (l.like !== null) expect(l.like).toBeLessThan(i + 1);
        });
      }),
      { numRuns: 60 },
    );
  });

  test('another key and another speed of the clock give the same lines', () => {
    const notes = sung([...LINE_A, ...LINE_B, [0, 1], ...LINE_A]);
    const moved = notes.map((n) => ({ start: n.start + 60, end: n.end + 60, midi: n.midi + 5 }));
    expect(firsts(moved)).toEqual(firsts(notes));
  });
});

describe('boundaryScores', () => {
  test('a longer silence and a longer note are more evidence', () => {
    const with8 = (beats: number, rest: number): number =>
      boundaryScores(
        sung([
          [60, 1],
          [64, 1],
          [62, 1],
          [67, beats],
          [0, rest],
          [60, 1],
          [71, 1],
          [63, 1],
        ]),
      )[4] ?? 0;
    expect(with8(1, 1)).toBeGreaterThan(with8(1, 0));
    expect(with8(2, 0)).toBeGreaterThan(with8(1, 0));
    // The same onset interval, once sung through and once with a breath in it.
    expect(with8(1, 1)).toBeGreaterThan(with8(2, 0));
  });
});
