import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { findBeats } from '../../../src/rhythm/beats/beats.js';
import { placeNotes } from '../../../src/rhythm/places/place.js';
import type { Beats, BeatsKnown } from '../../../src/rhythm/types.js';
import { sing, tuneOfFours } from '../tunes.js';

const UNKNOWN: BeatsKnown = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };

function bpmOf(beats: Beats): number {
  return (60 * (beats.seconds.length - 1)) / (beats.seconds.at(-1)! - beats.seconds[0]!);
}

/** Seconds from a moment to the nearest beat. */
function offBeat(beats: Beats, seconds: number): number {
  return Math.min(...beats.seconds.map((beat) => Math.abs(beat - seconds)));
}

const seeds = fc.integer({ min: 1, max: 1e6 });
const tempi = fc.double({ min: 80, max: 120, noNaN: true });

describe('findBeats', () => {
  test('a steady tune in four comes back: its tempo within 1 %, its bars, its first downbeat', () => {
    fc.assert(
      fc.property(seeds, tempi, (seed, bpm) => {
        const beats = findBeats(
          sing(tuneOfFours(12, seed), bpm, 1, 0.015, seededRandom(seed)),
          UNKNOWN,
          null,
        )!;
        expect(Math.abs(bpmOf(beats) / bpm - 1)).toBeLessThan(0.01);
        expect(beats.beatUnit).toBe(4);
        expect(offBeat(beats, 1)).toBeLessThan(0.03);
      }),
      { numRuns: 30 },
    );
  });

  test('most tunes in four are heard in four from the right downbeat', () => {
    const found = Array.from(
      { length: 20 },
      (_, i) => findBeats(sing(tuneOfFours(16, i + 1), 100), UNKNOWN, null)!,
    );
    const right = found.filter(
      (b) => b.beatsPerBar === 4 && Math.abs(b.seconds[b.firstDownbeat]! - 1) < 0.02,
    );
    expect(right.length).toBeGreaterThanOrEqual(16);
  });

  test('a tune in three and one in six are told from four', () => {
    const three = Array.from({ length: 12 }, (_, bar) =>
      (bar % 4 === 3 ? [3] : bar % 2 === 0 ? [2, 1] : [1, 1, 1]).map((length, i, all) => ({
        start: 3 * bar + all.slice(0, i).reduce((a, b) => a + b, 0),
        length,
      })),
    ).flat();
    expect(findBeats(sing(three, 110), UNKNOWN, null)).toMatchObject({
      beatsPerBar: 3,
      beatUnit: 4,
      firstDownbeat: 0,
    });
    const six = Array.from({ length: 12 }, (_, bar) =>
      (bar % 4 === 3 ? [3, 3] : bar % 2 === 0 ? [2, 1, 2, 1] : [1, 1, 1, 2, 1]).map((length, i, all) => ({
        start: (6 * bar + all.slice(0, i).reduce((a, b) => a + b, 0)) / 2,
        length: length / 2,
      })),
    ).flat();
    const beats = findBeats(sing(six, 120), UNKNOWN, null)!;
    expect(beats).toMatchObject({ beatsPerBar: 6, beatUnit: 8, firstDownbeat: 0 });
    // A quarter at 120 a minute is two eighths: 240.
    expect(bpmOf(beats)).toBeCloseTo(240, 0);
  });

  test('beats are whole bars from before the first note to after the last, and a pickup has a bar of its own', () => {
    const tune = [{ start: -1, length: 1 }, ...tuneOfFours(12, 7)];
    const notes = sing(tune, 100, 1);
    const beats = findBeats(notes, { ...UNKNOWN, beatsPerBar: 4 }, null)!;
    expect(beats.firstDownbeat).toBe(4);
    expect(beats.seconds[4]).toBeCloseTo(1, 1);
    expect(beats.seconds[0]!).toBeLessThan(notes[0]!.start);
    expect(beats.seconds.at(-1)!).toBeGreaterThan(notes.at(-1)!.end);
    expect((beats.seconds.length - 1) % 4).toBe(0);
    expect(placeNotes(notes, beats)[0]).toMatchObject({ bar: 0, beat: 4, beats: 1 });
  });

  test('later notes have later beats and the same places', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: -20, max: 50, noNaN: true }), (seed, shift) => {
        const notes = sing(tuneOfFours(10, seed), 96, 2, 0.015, seededRandom(seed));
        const moved = notes.map((note) => ({ ...note, start: note.start + shift, end: note.end + shift }));
        const beats = findBeats(notes, UNKNOWN, null)!;
        const later = findBeats(moved, UNKNOWN, null)!;
        expect(later.seconds.length).toBe(beats.seconds.length);
        later.seconds.forEach((second, i) => {
          expect(second).toBeCloseTo(beats.seconds[i]! + shift, 6);
        });
        expect(placeNotes(moved, later)).toEqual(placeNotes(notes, beats));
      }),
      { numRuns: 20 },
    );
  });

  test('a faster performance has a faster beat', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 0.8, max: 1.25, noNaN: true }), (seed, faster) => {
        const tune = tuneOfFours(12, seed);
        const slow = bpmOf(findBeats(sing(tune, 96), UNKNOWN, null)!);
        const fast = bpmOf(findBeats(sing(tune, 96 * faster), UNKNOWN, null)!);
        expect(fast / slow).toBeCloseTo(faster, 2);
      }),
      { numRuns: 20 },
    );
  });

  test('a tempo that drifts by a tenth is followed', () => {
    const tune = tuneOfFours(32, 11);
    const random = seededRandom(4);
    // A minute of 100 beats that slow down to 90: beat k comes at k/100 + k²·(…) so that the pace falls evenly.
    const secondsOf = (beat: number) => 1 + beat * 0.6 * (1 + (0.11 / 2) * (beat / 128));
    const notes = sing(tune, 100).map((note, i) => {
      const { start, length } = tune[i]!;
      const onset = secondsOf(start) + 0.015 * random.gauss();
      return { ...note, start: onset, end: onset + 0.8 * length * 0.6 };
    });
    const beats = findBeats(notes, UNKNOWN, null)!;
    const offs = Array.from({ length: 128 }, (_, beat) => offBeat(beats, secondsOf(beat))).sort(
      (a, b) => a - b,
    );
    expect(offs[120]!).toBeLessThan(0.07);
    const [early, late] = [beats.seconds.slice(0, 9), beats.seconds.slice(-13, -4)];
    expect((late[8]! - late[0]!) / (early[8]! - early[0]!)).toBeGreaterThan(1.06);
  });

  test('one note, a few, and onsets at random have no beat', () => {
    expect(findBeats([], UNKNOWN, null)).toBeNull();
    expect(findBeats([{ start: 1, end: 2, midi: 60 }], UNKNOWN, null)).toBeNull();
    const random = seededRandom(99);
    const found = Array.from({ length: 40 }, () => {
      let at = 0;
      const notes = Array.from({ length: 60 }, () => {
        at += 0.12 - 0.4 * Math.log(1 - random.next());
        return { start: at, end: at + 0.1, midi: 60 };
      });
      return findBeats(notes, UNKNOWN, null);
    });
    expect(found.filter((beats) => beats !== null).length).toBeLessThanOrEqual(8);
  });

  test('what is given wins: metre, downbeat, tempo octave, and all of them at once', () => {
    const notes = sing(tuneOfFours(12, 5), 100);
    for (const beatsPerBar of [2, 3, 5]) {
      expect(findBeats(notes, { ...UNKNOWN, beatsPerBar, beatUnit: 4 }, null)!.beatsPerBar).toBe(beatsPerBar);
    }
    const downbeat = 1 + 0.6 * 2;
    const moved = findBeats(notes, { ...UNKNOWN, beatsPerBar: 4, firstDownbeatSeconds: downbeat }, null)!;
    expect(moved.seconds[moved.firstDownbeat]).toBeCloseTo(downbeat, 1);
    for (const bpm of [50, 99, 200]) {
      const heard = bpm === 99 ? 100 : bpm;
      expect(bpmOf(findBeats(notes, { ...UNKNOWN, bpm }, null)!)).toBeCloseTo(heard, 0);
    }
    const all = findBeats(notes, { bpm: 77, beatsPerBar: 3, beatUnit: 4, firstDownbeatSeconds: 0.25 }, null)!;
    expect(bpmOf(all)).toBeCloseTo(77, 9);
    expect(all.seconds[all.firstDownbeat]).toBeCloseTo(0.25, 9);
    expect(all.beatsPerBar).toBe(3);
    const alone = findBeats([{ start: 2, end: 3, midi: 60 }], { ...UNKNOWN, bpm: 60 }, null)!;
    expect(alone.seconds[alone.firstDownbeat]).toBe(2);
  });

  test('whatever the notes and whatever is known, beats run forwards in whole bars around the notes', () => {
    const maybe = <T>(values: fc.Arbitrary<T>) => fc.option(values, { nil: null, freq: 1 });
    const seconds = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(seconds(0, 3), seconds(0.03, 1.5)), { minLength: 1, maxLength: 25 }),
        fc.record({
          bpm: maybe(seconds(30, 260)),
          beatsPerBar: maybe(fc.integer({ min: 1, max: 12 })),
          beatUnit: maybe(fc.constantFrom(4 as const, 8 as const)),
          firstDownbeatSeconds: maybe(seconds(-3, 20)),
        }),
        (intervals, known) => {
          let at = -1;
          const notes = intervals.map(([interval, length]) => {
            at += interval;
            return { start: at, end: at + length, midi: 60 };
          });
          const beats = findBeats(notes, known, null);
          if (known.bpm !== null) expect(beats).not.toBeNull();
          if (beats === null) return;
          expect(beats.seconds.every((second, i, all) => i === 0 || second > all[i - 1]!)).toBe(true);
          expect((beats.seconds.length - 1) % beats.beatsPerBar).toBe(0);
          expect(beats.firstDownbeat % beats.beatsPerBar).toBe(0);
          expect(beats.seconds[beats.firstDownbeat]).toBeDefined();
          expect(beats.seconds.at(-1)!).toBeGreaterThan(Math.max(...notes.map((note) => note.end)) - 1e-9);
          if (known.beatsPerBar !== null) expect(beats.beatsPerBar).toBe(known.beatsPerBar);
          if (known.beatUnit !== null) expect(beats.beatUnit).toBe(known.beatUnit);
        },
      ),
      { numRuns: 60 },
    );
  });

  test('notes without a beat of their own stand on a steady band, not on an unsteady one', () => {
    const random = seededRandom(31);
    let at = 1;
    const notes = Array.from({ length: 60 }, () => {
      at += 0.15 - 0.4 * Math.log(1 - random.next());
      return { start: at, end: at + 0.1, midi: 60 };
    });
    const seconds = Array.from({ length: 100 }, (_, i) => i * 0.6);
    expect(bpmOf(findBeats(notes, UNKNOWN, { seconds, steadiness: 1 })!)).toBeCloseTo(100, 0);
    expect(findBeats(notes, UNKNOWN, { seconds, steadiness: 0.1 })).toBeNull();
  });

  test("the band's beat is taken, at the band's time, and halved where it runs twice as fast", () => {
    const notes = sing(tuneOfFours(12, 21), 100, 1.05, 0.03, seededRandom(21));
    for (const everyBeats of [1, 0.5, 2]) {
      const seconds = Array.from({ length: 48 / everyBeats + 4 }, (_, i) => 1 + (i - 2) * everyBeats * 0.6);
      const beats = findBeats(notes, UNKNOWN, { seconds, steadiness: 1 })!;
      expect(bpmOf(beats)).toBeCloseTo(100, 1);
      expect(offBeat(beats, 1)).toBeLessThan(0.005);
    }
  });
});

describe('findBeats and placeNotes', () => {
  test('what is written, sung exactly and written down again is the same', () => {
    fc.assert(
      fc.property(seeds, tempi, (seed, bpm) => {
        const tune = tuneOfFours(12, seed);
        const notes = sing(tune, bpm);
        const known = { ...UNKNOWN, bpm, beatsPerBar: 4, firstDownbeatSeconds: 1 };
        placeNotes(notes, findBeats(notes, known, null)).forEach((place, i) => {
          expect((place.bar! - 1) * 4 + place.beat! - 1).toBeCloseTo(tune[i]!.start, 9);
          expect(place.beats).toBeCloseTo(tune[i]!.length, 9);
        });
      }),
      { numRuns: 30 },
    );
  });
});
