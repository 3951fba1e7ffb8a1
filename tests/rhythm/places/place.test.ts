import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { steadyBeats } from '../../../src/rhythm/beats/steady-beats.js';
import { placeNotes } from '../../../src/rhythm/places/place.js';

const fourFour = steadyBeats({ bpm: 120, beatsPerBar: 4, beatUnit: 4, firstDownbeatSeconds: 1 }, 60, -5);

/** Notes given as beats from the first downbeat, sung exactly, at 120 beats a minute from second 1. */
function sung(...notes: readonly (readonly [beat: number, beats: number])[]) {
  return notes.map(([beat, beats]) => ({ start: 1 + beat / 2, end: 1 + (beat + beats) / 2 }));
}

function placed(...notes: readonly (readonly [beat: number, beats: number])[]) {
  return placeNotes(sung(...notes), fourFour).map(({ bar, beat, beats }) => [bar, beat, beats]);
}

describe('placeNotes', () => {
  test('without a beat nothing is known', () => {
    expect(placeNotes([{ start: 0, end: 1 }], null)).toEqual([{ bar: null, beat: null, beats: null }]);
  });

  test('counts bars and beats from 1 at the first downbeat', () => {
    expect(placed([0, 1], [1, 1.5], [2.5, 0.5], [4, 4])).toEqual([
      [1, 1, 1],
      [1, 2, 1.5],
      [1, 3.5, 0.5],
      [2, 1, 4],
    ]);
  });

  test('a pickup stands in bar 0, earlier notes in negative bars', () => {
    expect(placed([-5, 1], [-1, 1], [0, 1]).map(([bar, beat]) => [bar, beat])).toEqual([
      [-1, 4],
      [0, 4],
      [1, 1],
    ]);
  });

  test('a lone note a little off stands on the beat; two thirds of a beat twice are triplets', () => {
    expect(placed([0, 1], [1.08, 0.9], [1.95, 1], [3, 1]).map(([, beat]) => beat)).toEqual([1, 2, 3, 4]);
    const third = 1 / 3;
    const places = placed([0, 1], [1, third], [1 + third, third], [1 + 2 * third, third], [2, 1], [3, 1]);
    [1, 2, 2 + third, 2 + 2 * third, 3, 4].forEach((beat, i) => {
      expect(places[i]![1]).toBeCloseTo(beat, 12);
    });
    expect(places[2]![2]).toBeCloseTo(third, 12);
  });

  test('a voice that is late throughout stands on the beats it is late for', () => {
    // 70 ms at 120 beats a minute is 0.14 of a beat: nearer to a sixteenth than to the beat.
    const late = sung(
      [0, 1],
      [1, 0.5],
      [1.5, 0.5],
      [2, 1],
      [3, 1],
      [4, 2],
      [6, 0.25],
      [6.25, 0.25],
      [6.5, 0.5],
      [7, 1],
    );
    const places = placeNotes(
      late.map(({ start, end }) => ({ start: start + 0.07, end: end + 0.07 })),
      fourFour,
    );
    expect(places).toEqual(placeNotes(late, fourFour));
    expect(places.map(({ beat }) => beat)).toEqual([1, 2, 2.5, 3, 4, 1, 3, 3.25, 3.5, 4]);
  });

  test('a short silence is how a note ends, a long one is a rest', () => {
    expect(
      placed([0, 0.8], [1, 0.8], [2, 0.8], [3, 0.8], [4, 0.9], [7, 1]).map(([, , beats]) => beats),
    ).toEqual([1, 1, 1, 1, 1, 1]);
  });

  test('notes faster than sixteenths are written finer, in order, none at the place of another', () => {
    const places = placed([0, 0.12], [0.125, 0.12], [0.25, 0.12], [0.375, 0.12], [0.5, 0.5], [1, 1]);
    expect(places.map(([, beat]) => beat)).toEqual([1, 1.125, 1.25, 1.375, 1.5, 2]);
  });

  test('bars of six are counted in eighths', () => {
    const sixEight = steadyBeats({ bpm: 240, beatsPerBar: 6, beatUnit: 8, firstDownbeatSeconds: 0 }, 10);
    const notes = [0, 2, 3, 5, 6, 9].map((beat) => ({ start: beat / 4, end: beat / 4 + 0.25 }));
    expect(placeNotes(notes, sixEight).map(({ bar, beat }) => [bar, beat])).toEqual([
      [1, 1],
      [1, 3],
      [1, 4],
      [1, 6],
      [2, 1],
      [2, 4],
    ]);
  });

  test('whatever the notes, places are in order, lengths positive, and no note runs into the next', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: 0.06, max: 3, noNaN: true }),
            fc.double({ min: 0.3, max: 1, noNaN: true }),
          ),
          {
            minLength: 1,
            maxLength: 30,
          },
        ),
        (intervals) => {
          let at = 0;
          const notes = intervals.map(([interval, share]) => {
            const note = { start: at, end: at + interval * share };
            at += interval;
            return note;
          });
          const places = placeNotes(notes, fourFour);
          const starts = places.map((place) => (place.bar! - 1) * 4 + place.beat! - 1);
          for (const [i, place] of places.entries()) {
            expect(place.beats).toBeGreaterThan(0);
            expect(place.beat).toBeGreaterThanOrEqual(1);
            expect(place.beat).toBeLessThan(5);
            if (i === 0) continue;
            expect(starts[i]!).toBeGreaterThanOrEqual(starts[i - 1]! + places[i - 1]!.beats! - 1e-9);
          }
        },
      ),
    );
  });
});
