/** Long recordings are tracked in stretches; what they say is what the whole says. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { trackMix } from '../../src/pitch/mix.js';
import { trackSolo } from '../../src/pitch/solo.js';
import { stretchesOf, trackInStretches } from '../../src/pitch/stretches.js';
import type { PitchTrack } from '../../src/pitch/types.js';
import { band, over } from './band.js';
import { RATE, recordingOf, sing } from './signals.js';

const HOP = 160;

test('every frame is kept once, with its margin of samples around it', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 100 * RATE }),
      fc.integer({ min: 11, max: 40 }),
      (length, seconds) => {
        const stretches = stretchesOf(length, HOP, RATE, seconds);
        let next = 0;
        for (const { from, to, keepFirst, skip, keepCount } of stretches) {
          expect(keepFirst).toBe(next);
          expect(from).toBe((keepFirst - skip) * HOP);
          expect(from % (2 * HOP)).toBe(0);
          expect(skip).toBe(Math.min(keepFirst, 500));
          expect(to).toBe(Math.min(length, (keepFirst + keepCount + 500) * HOP));
          next = keepFirst + keepCount;
        }
        expect(next).toBe(Math.floor(length / HOP) + 1);
      },
    ),
  );
});

test('up to two stretches and a margin of 5 s are tracked at once', () => {
  const count = (seconds: number) => stretchesOf(seconds * RATE, HOP, RATE, 20).length;
  expect([1, 44.9, 45.1, 65.1].map(count)).toEqual([1, 1, 3, 4]);
});

test('tracks are put together frame by frame', async () => {
  const samples = Float32Array.from({ length: 50 * RATE }, (_, i) => Math.floor(i / HOP));
  // A tracker that says of each frame its number, and of the first seconds of what it is given something else.
  const track = async (from: number, to: number): Promise<PitchTrack> => {
    const frameCount = Math.floor((to - from) / HOP) + 1;
    const curve = (sign: number) =>
      Float32Array.from({ length: frameCount }, (_, i) =>
        i < 100 && from > 0 ? -99 : (sign * (from + i * HOP)) / HOP,
      );
    return {
      grid: { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount },
      pitch: curve(1),
      voiced: curve(2),
      sounding: curve(3),
      onset: curve(4),
      levelDb: curve(5),
    };
  };
  const whole = await trackInStretches(stretchesOf(samples.length, HOP, RATE, 12), track);
  expect(whole.grid).toEqual({ hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 5001 });
  expect(whole).toEqual(await track(0, samples.length));
});

describe('in stretches of 15 s as at once', () => {
  const notes = Array.from({ length: 64 }, (_, i) => ({
    start: 0.5037 + 0.6 * i,
    end: 0.5037 + 0.6 * i + 0.5,
    midi: [60, 62, 64, 65, 67, 64, 60, 67][i % 8]!,
  }));
  const voice = sing(notes, 40);

  /** Largest difference between two curves; pitch is compared where there is a voice. */
  function furthest(a: PitchTrack, b: PitchTrack, name: 'pitch' | 'voiced' | 'onset' | 'levelDb'): number {
    return a[name].reduce(
      (most, value, i) =>
        name === 'pitch' && a.voiced[i]! < 0.5 ? most : Math.max(most, Math.abs(value - b[name][i]!)),
      0,
    );
  }

  for (const [name, samples, track] of [
    ['a solo', voice, (r, s) => trackSolo(r, { lowestHz: 55, highestHz: 1500 }, undefined, s)],
    [
      'a mix',
      over(voice, band(40, ['chords', 'bass']), 3),
      (r, s) => trackMix(r, { lowestMidi: 40, highestMidi: 84 }, s),
    ],
  ] as [
    string,
    Float32Array,
    (r: ReturnType<typeof recordingOf>, seconds?: number) => Promise<PitchTrack>,
  ][]) {
    test(`${name} is heard alike`, async () => {
      const recording = recordingOf(samples);
      const [whole, parts] = [await track(recording), await track(recording, 15)];
      expect(parts.grid).toEqual(whole.grid);
      for (const curve of ['pitch', 'voiced', 'onset', 'levelDb'] as const) {
        expect(furthest(whole, parts, curve)).toBeLessThan(1e-3);
      }
    });
  }
});
