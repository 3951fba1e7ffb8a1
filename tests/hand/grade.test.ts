/** Grades: that each curve goes one way, so that nothing harder lowers a grade. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addedBy, CURVES } from '../../src/hand/grade/curves.js';
import type { GradedMelody } from '../../src/hand/grade/features.js';
import { gradeMelody } from '../../src/hand/grade/grade.js';
import { FEATURES, type Feature } from '../../src/hand/grade/types.js';
import { wordsFor } from '../../src/hand/grade/words.js';
import { keys, melodyOf, retimed, tunes } from './grade-tunes.js';

describe('the curves', () => {
  test('add up to nine, so that the level is 1 to 10', () => {
    expect(FEATURES.reduce((sum, what) => sum + CURVES[what].most, 0)).toBeCloseTo(9, 12);
    for (const what of FEATURES) {
      const shares = CURVES[what].points.map(([, share]) => share);
      expect([Math.min(...shares), Math.max(...shares)]).toEqual([0, 1]);
    }
  });

  const EASIER_WHEN_MORE: readonly Feature[] = ['commonest note', 'short notes'];

  test.each(FEATURES.map((what) => [what]))('%s goes one way', (what) => {
    const most = 1.2 * CURVES[what].points.at(-1)![0];
    const values = Array.from({ length: 201 }, (_, i) => (i * most) / 200);
    const adds = values.map((value) => addedBy(what, value));
    if (EASIER_WHEN_MORE.includes(what)) adds.reverse();
    for (const [i, add] of adds.slice(1).entries()) expect(add).toBeGreaterThanOrEqual(adds[i]! - 1e-12);
    expect([adds[0], adds.at(-1)]).toEqual([0, CURVES[what].most]);
  });

  test('a line between two points, and a third of the most where nothing is known', () => {
    expect(addedBy('range', 7 + 17 / 4)).toBeCloseTo(0.2, 12);
    expect(addedBy('syncopation', null)).toBeCloseTo(0.5 / 3, 12);
  });
});

/** The level before it is rounded, which would hide small steps the wrong way; exact to nine decimals. */
function sumOf(tune: GradedMelody): number {
  const sum = gradeMelody(tune).parts.reduce((total, { adds }) => total + adds, 1);
  return Math.round(1e9 * sum);
}

describe('grades', () => {
  test('are 1 to 10, the sum of what their parts add, with a reason for each, the greatest first', () => {
    fc.assert(
      fc.property(tunes, (tune) => {
        const { level, reasons, parts } = gradeMelody(tune);
        expect(level).toBeGreaterThanOrEqual(1);
        expect(level).toBeLessThanOrEqual(10);
        expect(parts.map(({ what }) => what).sort()).toEqual([...FEATURES].sort());
        expect(level).toBeCloseTo(1 + parts.reduce((sum, { adds }) => sum + adds, 0), 1);
        expect(parts.map(({ adds }) => adds)).toEqual(parts.map(({ adds }) => adds).sort((a, b) => b - a));
        expect(reasons).toEqual(parts.map(({ what, value }) => wordsFor(what, value)));
      }),
    );
  });

  test('never fall when everything is played faster', () => {
    fc.assert(
      fc.property(tunes, fc.double({ min: 0.1, max: 1, noNaN: true }), (tune, share) => {
        const faster = retimed(tune, (seconds) => share * seconds);
        expect(sumOf(faster)).toBeGreaterThanOrEqual(sumOf(tune));
      }),
    );
  });

  test('never fall when one note is made shorter, and what follows comes sooner', () => {
    fc.assert(
      fc.property(tunes, fc.nat(), fc.double({ min: 0.1, max: 1, noNaN: true }), (tune, which, share) => {
        const { start, end } = tune.notes[which % tune.notes.length]!;
        const gone = (1 - share) * (end - start);
        const faster = retimed(tune, (seconds) => {
          if (seconds <= start) return seconds;
          return seconds >= end ? seconds - gone : start + share * (seconds - start);
        });
        expect(sumOf(faster)).toBeGreaterThanOrEqual(sumOf(tune));
      }),
    );
  });

  test('never fall when a line no longer repeats another, or the hand moves once more', () => {
    fc.assert(
      fc.property(tunes, fc.nat(), (tune, which) => {
        const index = which % tune.lines.length;
        const lines = tune.lines.map((line, i) => (i === index ? { ...line, like: 1 } : line));
        expect(sumOf(tune)).toBeGreaterThanOrEqual(sumOf({ ...tune, lines }));
        const hand = [...tune.hand!, { first: (which % tune.notes.length) + 1, thumb: 65 }];
        expect(sumOf({ ...tune, hand })).toBeGreaterThanOrEqual(sumOf(tune));
      }),
    );
  });

  test('never fall when a rhythm is held over a beat, or a key becomes a new one within the range', () => {
    // On white keys: F once in place of D, with no other leap.
    const few = melodyOf(keys(60, 62, 64, 62, 64, 62, 67));
    const more = melodyOf(keys(60, 62, 64, 65, 64, 62, 67));
    expect(sumOf(more)).toBeGreaterThan(sumOf(few));
    const straight = melodyOf([{ midi: 60, beat: 1.5, beats: 0.5 }]);
    const held = melodyOf([{ midi: 60, beat: 1.5, beats: 1 }]);
    expect(gradeMelody(held).level).toBeGreaterThan(gradeMelody(straight).level);
  });

  test('one long key is as easy as can be; fast wide leaps on all the keys are nearly as hard', () => {
    const one = { midi: 60, length: 4, beat: 1, beats: 4 };
    expect(gradeMelody(melodyOf([one])).level).toBe(1);
    const wild = Array.from({ length: 300 }, (_, i) => ({
      midi: 55 + ((i * 17) % 25),
      length: 0.1,
      beat: 1.75,
      beats: 0.5,
    }));
    const hand = wild.map((_, i) => ({ first: i + 1, thumb: 60 }));
    expect(gradeMelody(melodyOf(wild, { hand })).level).toBeGreaterThan(9);
  });
});
