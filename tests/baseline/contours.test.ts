import { describe, expect, test } from 'vitest';
import type { Recording } from '../../src/audio/types.js';
import { trackContours } from './contours.js';

const RATE = 16_000;
const OPTIONS = { lowestMidi: 40, highestMidi: 84 };

function recordingOf(samples: Float32Array): Recording {
  const seconds = samples.length / RATE;
  return {
    samples,
    sampleRate: RATE,
    source: { container: 'wav', sampleRate: RATE, channels: 1, seconds, warnings: [] },
  };
}

/** A tone of six harmonics with 5 Hz vibrato of ±30 cents, as a voice has. */
function sung(seconds: number, midi: number, from: number, to: number, amplitude = 0.2): Float32Array {
  let phase = 0;
  return Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => {
    const t = i / RATE;
    phase += (2 * Math.PI * 440 * 2 ** ((midi - 69 + 0.3 * Math.sin(10 * Math.PI * t)) / 12)) / RATE;
    if (t < from || t >= to) return 0;
    return [1, 2, 3, 4, 5, 6].reduce((sum, h) => sum + (amplitude / h) * Math.sin(h * phase), 0);
  });
}

function plus(...parts: Float32Array[]): Float32Array {
  return parts[0]!.map((_, i) => parts.reduce((sum, part) => sum + part[i]!, 0));
}

describe('trackContours', () => {
  test('follows a voice over a softer chord, on a grid of 10 ms from 0', async () => {
    const mix = plus(
      sung(3, 67, 1, 2),
      sung(3, 48, 0, 3, 0.02),
      sung(3, 52, 0, 3, 0.02),
      sung(3, 55, 0, 3, 0.02),
    );
    const track = await trackContours(recordingOf(mix), OPTIONS);
    expect(track.grid).toEqual({ hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 301 });
    for (const array of [track.pitch, track.voiced, track.sounding, track.onset, track.levelDb]) {
      expect(array).toHaveLength(301);
      expect(array.every(Number.isFinite)).toBe(true);
    }
    const inside = [...track.pitch.subarray(110, 190)];
    expect(inside.filter((p) => Math.abs(p - 67) < 0.5).length / inside.length).toBeGreaterThan(0.95);
    expect(Math.min(...track.voiced.subarray(110, 190))).toBeGreaterThan(0.5);
  });

  test('the onset is where the voice comes in', async () => {
    const track = await trackContours(
      recordingOf(plus(sung(2, 67, 0.7, 1.6), sung(2, 48, 0, 2, 0.01))),
      OPTIONS,
    );
    const at = track.onset.indexOf(Math.max(...track.onset));
    expect(Math.abs(at * 0.01 - 0.7)).toBeLessThanOrEqual(0.02);
    expect(track.onset[at]).toBeGreaterThan(0.9);
    // Nothing starts in the steady part.
    expect(Math.max(...track.onset.subarray(90, 150))).toBeLessThan(0.2);
  });

  test('the level does not change what is heard, only the level told', async () => {
    const samples = sung(2, 60, 0.5, 1.5);
    const loud = await trackContours(recordingOf(samples), OPTIONS);
    const soft = await trackContours(recordingOf(samples.map((s) => s / 100)), OPTIONS);
    expect(soft.voiced[100]).toBeCloseTo(loud.voiced[100]!, 2);
    expect(loud.levelDb[100]! - soft.levelDb[100]!).toBeCloseTo(40, 1);
  });

  test('the level is the root mean square: a full-scale sine has −3.01 dB', async () => {
    // 1 kHz: the 32 ms window holds 32 whole periods.
    const sine = Float32Array.from({ length: RATE }, (_, i) => Math.sin((2 * Math.PI * 1000 * i) / RATE));
    const track = await trackContours(recordingOf(sine), OPTIONS);
    expect(track.levelDb[50]).toBeCloseTo(10 * Math.log10(0.5), 3);
  });

  test('a break of 60 ms inside a note sounds on, a long one does not', async () => {
    const samples = sung(3, 60, 0.2, 2.8);
    samples.fill(0, 1 * RATE, 1.06 * RATE);
    samples.fill(0, 1.8 * RATE, 2.3 * RATE);
    const track = await trackContours(recordingOf(samples), OPTIONS);
    expect(Math.min(...track.sounding.subarray(95, 110))).toBeGreaterThan(0.5);
    expect(track.sounding[205]).toBeLessThan(0.5);
  });

  test('silence and nothing at all have nothing voiced', async () => {
    for (const length of [RATE, 1, 0]) {
      const track = await trackContours(recordingOf(new Float32Array(length)), OPTIONS);
      expect(track.voiced).toHaveLength(track.grid.frameCount);
      expect(track.voiced.every((v) => v < 0.5)).toBe(true);
      expect(track.pitch.every((p) => p === 62)).toBe(true);
      expect(track.levelDb.every((level) => level === -120)).toBe(true);
    }
  });
});
