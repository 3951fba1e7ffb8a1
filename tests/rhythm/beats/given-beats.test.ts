import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findBeats } from '../../../src/rhythm/beats/beats.js';
import { givenBeats } from '../../../src/rhythm/beats/given-beats.js';

const THREE = { beatsPerBar: 3, beatUnit: 4 } as const;
/** Beats of half a second, the last of a whole one. */
const BEATS = [1, 1.5, 2, 2.5, 3, 3.5, 4.5];
const secondsOf = (downbeat: number | null, first: number, end: number) =>
  givenBeats(BEATS, THREE, downbeat, first, end).seconds;

describe('beats that are given', () => {
  test('stay as they are while they hold the notes, give or take half a beat before and a millisecond after', () => {
    expect(givenBeats(BEATS, THREE, null, 1, 4)).toEqual({ ...THREE, seconds: BEATS, firstDownbeat: 0 });
    expect(secondsOf(1, 0.76, 4.501)).toEqual(BEATS);
    expect(secondsOf(1, 3.2, 3.4)).toEqual(BEATS);
  });

  test('go on at the pace of the outermost, by whole bars', () => {
    expect(secondsOf(1, 0.74, 4)).toEqual([-0.5, 0, 0.5, ...BEATS]);
    expect(secondsOf(1, -0.76, 4)).toEqual([-2, -1.5, -1, -0.5, 0, 0.5, ...BEATS]);
    expect(secondsOf(1, 1, 4.6)).toEqual([...BEATS, 5.5, 6.5, 7.5]);
  });

  test('begin with a bar: the first downbeat is the nearest, and may lie outside', () => {
    expect(givenBeats(BEATS, THREE, 2.2, 1, 4)).toEqual({
      ...THREE,
      seconds: [0.5, ...BEATS],
      firstDownbeat: 3,
    });
    expect(givenBeats(BEATS, THREE, -0.5, 1, 4)).toMatchObject({ firstDownbeat: 0 });
    expect(secondsOf(-0.5, 1, 4)[0]).toBe(-0.5);
    expect(secondsOf(5.5, 1, 4)).toEqual([0, 0.5, ...BEATS, 5.5, 6.5, 7.5, 8.5]);
  });

  test('come back the same when they are given again', () => {
    const spans = fc.array(fc.double({ min: 0.1, max: 2, noNaN: true }), { minLength: 1, maxLength: 20 });
    const at = fc.double({ min: -3, max: 30, noNaN: true });
    fc.assert(
      fc.property(
        spans,
        fc.integer({ min: 1, max: 7 }),
        at,
        at,
        at,
        (lengths, beatsPerBar, a, b, downbeat) => {
          const seconds = [0];
          for (const length of lengths) seconds.push(seconds.at(-1)! + length);
          const metre = { beatsPerBar, beatUnit: 8 } as const;
          const [first, end] = [Math.min(a, b), Math.max(a, b)];
          const once = givenBeats(seconds, metre, downbeat, first, end);
          expect(once.seconds.slice(1).every((time, i) => time > once.seconds[i]!)).toBe(true);
          expect(once.firstDownbeat % beatsPerBar).toBe(0);
          expect(once.seconds.length).toBeGreaterThan(once.firstDownbeat + 1);
          expect(givenBeats(once.seconds, metre, once.seconds[once.firstDownbeat]!, first, end)).toEqual(
            once,
          );
        },
      ),
    );
  });

  test('win over a tempo that is given, and over what the notes say', () => {
    const notes = Array.from({ length: 8 }, (_, i) => ({ start: 1 + i / 3, end: 1.3 + i / 3, midi: 60 }));
    const known = {
      bpm: 180,
      beatsPerBar: null,
      beatUnit: null,
      firstDownbeatSeconds: 1,
      beatSeconds: BEATS,
    };
    expect(findBeats(notes, known, null)).toEqual({
      beatsPerBar: 4,
      beatUnit: 4,
      seconds: [...BEATS],
      firstDownbeat: 0,
    });
  });
});
