import { describe, expect, test } from 'vitest';
import { chainScore, metreOf, metresFor, nextScore } from '../../../src/rhythm/bars/metre.js';

describe('metres', () => {
  test('the next note is somewhere: probabilities from every place add up to one', () => {
    for (const metre of [...metresFor(null, null), metreOf(4, 4), metreOf(5, 4), metreOf(9, 8)]) {
      for (let place = 0; place < metre.bar; place++) {
        let sum = 0;
        for (let interval = 1; interval <= metre.longest + 1; interval++) {
          sum += Math.exp(metre.next[place * (metre.longest + 2) + interval]!);
        }
        // The tables are in steps of 0.15 nats, and their rarest entries are cut.
        expect(Math.abs(sum - 1)).toBeLessThan(0.1);
      }
    }
  });

  test('quarters on the beat suit every metre better than quarters off it', () => {
    for (const [beats, unit] of [
      [4, 4],
      [3, 4],
      [2, 4],
      [5, 4],
    ] as const) {
      const metre = metreOf(beats, unit);
      const quarters = Array.from({ length: 16 }, (_, i) => 4 * i);
      expect(chainScore(quarters, 0, metre)).toBeGreaterThan(chainScore(quarters, 1, metre));
      expect(chainScore(quarters, 0, metre)).toBeGreaterThan(chainScore(quarters, 2, metre));
    }
  });

  test('what is known rules metres out', () => {
    expect(metresFor(3, null).map((m) => m.beatsPerBar)).toEqual([3]);
    expect(metresFor(null, 8).map((m) => m.beatsPerBar)).toEqual([6]);
    expect(metresFor(6, null).map((m) => m.beatUnit)).toEqual([8]);
    expect(metresFor(7, 8)[0]).toMatchObject({ beatsPerBar: 7, beatUnit: 8, bar: 14 });
  });

  test('a longer silence is less likely', () => {
    const metre = metreOf(3, 4);
    expect(nextScore(metre, 0, 60)).toBeLessThan(nextScore(metre, 0, 40));
  });
});
