import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { metreOf } from '../../../src/rhythm/bars/metre.js';
import { findBeats } from '../../../src/rhythm/beats/beats.js';
import { loosePositions } from '../../../src/rhythm/beats/loose.js';
import { sing, tuneOfFours } from '../tunes.js';

describe('loosely sung onsets', () => {
  test('onsets on sixteenths keep them, however rare those are', () => {
    const counts = [0, 4, 5, 6, 8, 11, 12, 16];
    expect(loosePositions(counts, 0, metreOf(4, 4), 0.2)).toEqual(counts);
  });

  test('a beat sung more than half a sixteenth late is still the beat, once singers are known to be loose', () => {
    const counts = [0, 4, 8.6, 12, 16, 20, 24];
    const metre = metreOf(4, 4);
    expect(loosePositions(counts, 0, metre, 0.1)[2]).toBe(9);
    expect(loosePositions(counts, 0, metre, 0.5)[2]).toBe(8);
  });

  test('positions never go back', () => {
    const counts = [3.9, 4.1, 4.2, 4.6, 4.7];
    const positions = loosePositions(counts, 2, metreOf(3, 4), 0.4);
    expect(positions).toEqual([...positions].sort((a, b) => a - b));
  });

  test('a singer off by 45 ms is given the right tempo, nine times of ten', () => {
    const right = Array.from({ length: 20 }, (_, i) => {
      const beats = findBeats(
        sing(tuneOfFours(16, i + 1), 100, 1, 0.045, seededRandom(i + 1)),
        { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null },
        null,
      );
      if (beats === null) return false;
      const bpm = (60 * (beats.seconds.length - 1)) / (beats.seconds.at(-1)! - beats.seconds[0]!);
      return Math.abs(bpm / 100 - 1) < 0.02;
    });
    expect(right.filter(Boolean).length).toBeGreaterThanOrEqual(18);
  });
});
