import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { placeNotes } from '../../src/rhythm/place.js';

const beat = { bpm: 120, beatsPerBar: 4, firstDownbeatSeconds: 1 };

describe('placeNotes', () => {
  test('without a beat nothing is known', () => {
    expect(placeNotes([{ start: 0, end: 1 }], null)).toEqual([{ bar: null, beat: null, beats: null }]);
  });

  test('counts bars and beats from 1 at the first downbeat', () => {
    const notes = [
      { start: 1, end: 1.5 },
      { start: 1.5, end: 2.25 },
      { start: 3, end: 5 },
    ];
    expect(placeNotes(notes, beat)).toEqual([
      { bar: 1, beat: 1, beats: 1 },
      { bar: 1, beat: 2, beats: 1.5 },
      { bar: 2, beat: 1, beats: 4 },
    ]);
  });

  test('a pickup stands in bar 0, earlier notes in negative bars', () => {
    const notes = [
      { start: 0.5, end: 1 },
      { start: -1.5, end: -1 },
    ];
    expect(placeNotes(notes, beat)).toEqual([
      { bar: 0, beat: 4, beats: 1 },
      { bar: -1, beat: 4, beats: 1 },
    ]);
  });

  test('rounds to a quarter of a beat, into the next bar where that is nearest, never to no length', () => {
    expect(placeNotes([{ start: 2.98, end: 2.99 }], beat)).toEqual([{ bar: 2, beat: 1, beats: 0.25 }]);
    expect(placeNotes([{ start: 1.13, end: 1.4 }], beat)).toEqual([{ bar: 1, beat: 1.25, beats: 0.5 }]);
  });

  test('a bar later is a bar more, and the place is within an eighth of a beat of the time', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -20, max: 200, noNaN: true }),
        fc.integer({ min: 2, max: 6 }),
        (start, n) => {
          const steady = { ...beat, beatsPerBar: n };
          const place = placeNotes([{ start, end: start + 1 }], steady)[0];
          const beatsAfter = ((place?.bar ?? 0) - 1) * n + (place?.beat ?? 0) - 1;
          expect(Math.abs(beatsAfter - (start - 1) * 2)).toBeLessThanOrEqual(0.125 + 1e-9);
          expect(place?.beat).toBeGreaterThanOrEqual(1);
          expect(place?.beat).toBeLessThan(n + 1);
        },
      ),
    );
  });
});
