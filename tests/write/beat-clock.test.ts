import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { beatClock } from '../../src/write/beat-clock.js';
import { timedMelodies } from './melodies.js';

const FOUR = { beatsPerBar: 4, beatUnit: 4 } as const;

describe('the clock of beats', () => {
  test('is null without a tempo, and even where only the tempo is known', () => {
    expect(
      beatClock({ tempo: { bpm: null, beats: [] }, meter: { ...FOUR, firstDownbeat: null } }),
    ).toBeNull();
    const clock = beatClock({ tempo: { bpm: 120, beats: [] }, meter: { ...FOUR, firstDownbeat: 3 } })!;
    expect([-2, 0, 1.5].map(clock.secondsAt)).toEqual([2, 3, 3.75]);
    expect([2, 3, 3.75].map(clock.positionAt)).toEqual([-2, 0, 1.5]);
  });

  test('counts from the beat nearest to the first downbeat, and goes on at the pace of the outermost beats', () => {
    const tempo = { bpm: 60, beats: [0, 1, 2, 4, 8] };
    const clock = beatClock({ tempo, meter: { ...FOUR, firstDownbeat: 2.4 } })!;
    expect([-3, -2, -0.5, 0, 0.5, 1, 2, 2.5].map(clock.secondsAt)).toEqual([-1, 0, 1.5, 2, 3, 4, 8, 10]);
    expect([-1, 0, 1.5, 2, 3, 4, 8, 10].map(clock.positionAt)).toEqual([-3, -2, -0.5, 0, 0.5, 1, 2, 2.5]);
  });

  test('puts every beat on a whole position, and gives back what it is asked', () => {
    fc.assert(
      fc.property(timedMelodies, fc.double({ min: -20, max: 60, noNaN: true }), (melody, position) => {
        const clock = beatClock(melody)!;
        expect(clock.secondsAt(0)).toBe(melody.meter.firstDownbeat);
        const from = melody.tempo.beats.indexOf(melody.meter.firstDownbeat!);
        melody.tempo.beats.forEach((time, i) => {
          expect(clock.positionAt(time)).toBeCloseTo(i - from, 9);
        });
        expect(clock.positionAt(clock.secondsAt(position))).toBeCloseTo(position, 6);
      }),
    );
  });
});
