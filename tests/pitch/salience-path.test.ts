import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Salience } from '../../src/pitch/salience.js';
import { PATH_COSTS, saliencePath } from '../../src/pitch/salience-path.js';
import { atHalfFrames, meanPitch } from '../../src/pitch/salience-pitch.js';

const BINS = 60;

/** A bump of height `strength` nats around each frame's centre in bins, over nothing; more bumps may be added. */
function salienceOf(
  frames: readonly (readonly { centre: number; strength: number }[])[],
  voiced: readonly number[] = frames.map(() => 1),
): Salience {
  const logits = Float32Array.from({ length: frames.length * BINS }, (_, i) => {
    const bumps = frames[Math.floor(i / BINS)]!;
    return Math.max(
      0,
      ...bumps.map(({ centre, strength }) => strength - ((i % BINS) - centre) ** 2 / (2 * 1.25 ** 2)),
    );
  });
  return {
    frameCount: frames.length,
    bins: BINS,
    binsPerSemitone: 5,
    lowestMidi: 33,
    logits,
    voiced: Float32Array.from(voiced),
  };
}

const at = (centre: number, strength = 8) => [{ centre, strength }];
const times = <T>(count: number, value: T): T[] => new Array<T>(count).fill(value);
const path = (salience: Salience, from = 0, to = BINS - 1) => [...saliencePath(salience, from, to)];

describe('the path', () => {
  test('follows a glide and a leap to the bin', () => {
    const centres = [10, 10, 11, 13, 15, 17, 17, 17, 50, 50, 50, 50];
    expect(path(salienceOf(centres.map((c) => at(c))))).toEqual(centres);
  });

  test('is not drawn to a pitch that stands out in two frames among many', () => {
    const stray = [
      { centre: 10, strength: 4 },
      { centre: 50, strength: 6 },
    ];
    const frames = [...times(8, at(10)), stray, stray, ...times(8, at(10))];
    expect(path(salienceOf(frames))).toEqual(times(18, 10));
  });

  test('… but goes where it stays', () => {
    const both = [
      { centre: 10, strength: 4 },
      { centre: 50, strength: 6 },
    ];
    const frames = [...times(8, at(10)), ...times(12, both)];
    expect(path(salienceOf(frames))).toEqual([...times(8, 10), ...times(12, 50)]);
  });

  test('is not pulled by what sounds where nobody sings', () => {
    const frames = [...times(6, at(20)), ...times(30, at(50)), ...times(6, at(20))];
    const voiced = [...times(6, 1), ...times(30, 0.01), ...times(6, 1)];
    const found = path(salienceOf(frames, voiced));
    expect(found.slice(0, 6)).toEqual(times(6, 20));
    expect(found.slice(36)).toEqual(times(6, 20));
  });

  test('a pause frees the next note from the last', () => {
    // A weak note far away: the leap to it costs more than it gains, unless a pause lies before it.
    const weak = [
      { centre: 10, strength: 1 },
      { centre: 50, strength: 2 },
    ];
    const frames = [...times(6, at(10)), at(10, 0), at(10, 0), weak, weak];
    const sung = path(salienceOf(frames));
    const paused = path(salienceOf(frames, [...times(6, 1), 0, 0, 1, 1]));
    expect(sung.slice(8)).toEqual([10, 10]);
    expect(paused.slice(8)).toEqual([50, 50]);
  });

  test('stays in its range, and finds the best there', () => {
    const frames = times(6, [
      { centre: 10, strength: 9 },
      { centre: 30, strength: 3 },
    ]);
    expect(path(salienceOf(frames))).toEqual(times(6, 10));
    expect(path(salienceOf(frames), 20, 59)).toEqual(times(6, 30));
    expect(path(salienceOf(frames), 25, 25)).toEqual(times(6, 25));
  });

  test('is the cheapest of all paths', () => {
    const { semitone, leap, against, leastGrip } = PATH_COSTS;
    const allPaths = Array.from({ length: 4 ** 5 }, (_, n) =>
      [0, 1, 2, 3, 4].map((t) => Math.floor(n / 4 ** t) % 4),
    );
    // Whole numbers are drawn evenly, where fractions would mostly be tiny.
    const level = fc.nat(40).map((n) => n / 4);
    const share = fc.nat(10).map((n) => n / 10);
    const exactly = (count: number) => ({ minLength: count, maxLength: count });
    fc.assert(
      fc.property(
        fc.array(level, exactly(20)),
        fc.array(share, exactly(5)),
        fc.constantFrom(2, 5, 12),
        (logits, voiced, semitonesPerBin) => {
          const costOf = (bins: readonly number[]) =>
            bins.reduce((sum, bin, t) => {
              const row = logits.slice(4 * t, 4 * t + 4);
              const here = voiced[t]! * Math.min(Math.max(...row) - row[bin]!, against);
              if (t === 0) return sum + here;
              const move = Math.min(semitone * semitonesPerBin * Math.abs(bin - bins[t - 1]!), leap);
              return sum + here + Math.max(leastGrip, Math.min(voiced[t]!, voiced[t - 1]!)) * move;
            }, 0);
          const found = saliencePath(
            {
              frameCount: 5,
              bins: 4,
              binsPerSemitone: 1 / semitonesPerBin,
              lowestMidi: 33,
              logits: Float32Array.from(logits),
              voiced: Float32Array.from(voiced),
            },
            0,
            3,
          );
          expect(costOf([...found])).toBeLessThan(Math.min(...allPaths.map(costOf)) + 1e-4);
        },
      ),
      { numRuns: 200, seed: 7 },
    );
  });
});

describe('the pitch between the bins', () => {
  test.each([20, 20.2, 20.4, 19.7])('of a peak at bin %f is within 4 cents', (centre) => {
    const salience = salienceOf([at(centre)]);
    const [pitch] = meanPitch(salience, Uint16Array.of(Math.round(centre)));
    expect(Math.abs(pitch! - (33 + centre / 5)) * 100).toBeLessThan(4);
  });

  test('does not hear other peaks', () => {
    const [pitch] = meanPitch(salienceOf([[...at(20), ...at(40, 12)]]), Uint16Array.of(20));
    expect(pitch).toBeCloseTo(37, 2);
  });
});

describe('twice as many frames', () => {
  test('lie half-way, and the last is held', () => {
    const pitch = Float32Array.of(60, 60.5, 61);
    expect([...atHalfFrames(pitch, Float32Array.of(1, 1, 1), 6)]).toEqual([60, 60.25, 60.5, 60.75, 61, 61]);
    expect(atHalfFrames(pitch, Float32Array.of(1, 1, 1), 5)).toHaveLength(5);
  });

  test('take no pitch between two notes, but that of the one that is sung', () => {
    const pitch = Float32Array.of(60, 67);
    expect(atHalfFrames(pitch, Float32Array.of(0.9, 0.2), 4)[1]).toBe(60);
    expect(atHalfFrames(pitch, Float32Array.of(0.2, 0.9), 4)[1]).toBe(67);
  });
});
