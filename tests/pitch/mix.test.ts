import { describe, expect, test } from 'vitest';
import { pack } from '../../src/dsp/packed.js';
import { UsageError } from '../../src/errors.js';
import { trackMix } from '../../src/pitch/mix.js';
import { RATE, recordingOf, steady, tone } from './signals.js';

const RANGE = { lowestMidi: 40, highestMidi: 84 };

describe('trackMix', () => {
  const samples = tone(steady(220), 1.015, { partials: [1], gain: 0.1 });

  test('gives every moment of 10 ms a pitch in the range and three probabilities', async () => {
    const track = await trackMix(recordingOf(samples), RANGE);
    expect(track.grid).toEqual({ hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 102 });
    for (const values of [track.pitch, track.voiced, track.sounding, track.onset, track.levelDb]) {
      expect(values).toHaveLength(102);
    }
    for (const values of [track.voiced, track.sounding, track.onset]) {
      expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...values)).toBeLessThanOrEqual(1);
    }
    // A pitch lies up to two bins from the path's.
    expect(Math.min(...track.pitch)).toBeGreaterThanOrEqual(39.6);
    expect(Math.max(...track.pitch)).toBeLessThanOrEqual(84.4);
  });

  test('tells the level of the recording as it is, not as the network hears it', async () => {
    // The mean square of a sine of amplitude 0.1 is 0.005: −23.01 dB.
    const { levelDb } = await trackMix(recordingOf(samples), RANGE);
    expect(levelDb[50]).toBeCloseTo(-23.01, 1);
    const quiet = await trackMix(recordingOf(samples.map((x) => x / 100)), RANGE);
    expect(quiet.levelDb[50]).toBeCloseTo(-63.01, 1);
  });

  test('hears a recording the same however loud it is, and the same each time', async () => {
    const [loud, again, soft] = [
      await trackMix(recordingOf(samples), RANGE),
      await trackMix(recordingOf(samples), RANGE),
      await trackMix(recordingOf(samples.map((x) => x / 8)), RANGE),
    ];
    expect(again).toEqual(loud);
    soft.voiced.forEach((p, i) => {
      expect(Math.abs(p - loud.voiced[i]!)).toBeLessThan(1e-3);
    });
  });

  test('listens to the side', async () => {
    const without = await trackMix(recordingOf(samples), RANGE);
    const with_ = await trackMix(recordingOf(samples), { ...RANGE, side: pack(samples) });
    expect(with_.voiced).not.toEqual(without.voiced);
    expect(await trackMix(recordingOf(samples), { ...RANGE, side: null })).toEqual(without);
  });

  test.each([0, 1, 160, 320])('takes a recording of %i samples', async (length) => {
    const track = await trackMix(recordingOf(new Float32Array(length)), RANGE);
    expect(track.grid.frameCount).toBe(Math.floor(length / 160) + 1);
    expect(track.pitch.every(Number.isFinite)).toBe(true);
    // Silence lies at the floor.
    expect(track.levelDb.every((db) => db === -100)).toBe(true);
  });

  test('refuses a range in which the network knows no pitch, and another sample rate', async () => {
    const high = trackMix(recordingOf(samples), { lowestMidi: 94, highestMidi: 100 });
    await expect(high).rejects.toThrow(UsageError);
    await expect(high).rejects.toThrow(/from A1 .* to G#6/);
    const recording = { ...recordingOf(samples), sampleRate: RATE / 2 };
    await expect(trackMix(recording, RANGE)).rejects.toThrow(RangeError);
  });
});
