import { describe, expect, test } from 'vitest';
import { steadyBeats } from '../../../src/rhythm/beats/steady-beats.js';

describe('steadyBeats', () => {
  test('counts whole bars from before the beginning to after the end', () => {
    const beats = steadyBeats({ bpm: 60, beatsPerBar: 3, beatUnit: 4, firstDownbeatSeconds: 4 }, 9, 2.5);
    // Bars at 1, 4, 7, 10 and one more: the end lies in the third.
    expect(beats.seconds).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]);
    expect(beats.firstDownbeat).toBe(3);
    expect(beats.beatsPerBar).toBe(3);
  });

  test('a downbeat after the end is still there', () => {
    const beats = steadyBeats({ bpm: 120, beatsPerBar: 4, beatUnit: 4, firstDownbeatSeconds: 30 }, 5);
    expect(beats.seconds[beats.firstDownbeat]).toBe(30);
    expect(beats.seconds[0]!).toBeLessThanOrEqual(0);
    expect(beats.seconds.at(-1)!).toBeGreaterThan(30);
  });
});
