import { describe, expect, test } from 'vitest';
import { BAND_COUNT, type BandLevels, bandLevels } from '../../src/pitch/bands.js';
import type { PitchPath } from '../../src/pitch/best-path.js';
import { CONTEXT_SIZE, contextOf } from '../../src/pitch/context.js';
import { RATE, sing } from './signals.js';

/** A frame's values: the bands, the whole level, the strength, the pitch. */
const PER_FRAME = BAND_COUNT + 3;
const FRAMES_SEEN = CONTEXT_SIZE / PER_FRAME;
const MIDDLE = (FRAMES_SEEN - 1) / 2;

/** Levels of `count` frames that all lie at one level. */
function levelAt(db: number, loudDb: number, count = 60): BandLevels {
  return {
    levelDb: new Float32Array(count).fill(db),
    bandDb: new Float32Array(count * BAND_COUNT).fill(db),
    loudDb,
  };
}

function pathOf(pitch: ArrayLike<number>, strength = 0.5): PitchPath {
  return { pitch: Float32Array.from(pitch), strength: new Float32Array(pitch.length).fill(strength) };
}

function context(levels: BandLevels, path: PitchPath, index: number): number[][] {
  const out = new Float32Array(CONTEXT_SIZE).fill(Number.NaN);
  contextOf(levels, path, index, out);
  return Array.from({ length: FRAMES_SEEN }, (_, k) => [...out.subarray(k * PER_FRAME, (k + 1) * PER_FRAME)]);
}

const flat = (count = 60) => new Array<number>(count).fill(60);

test('as many frames are seen before as after', () => {
  expect(Number.isInteger(FRAMES_SEEN)).toBe(true);
  expect(FRAMES_SEEN % 2).toBe(1);
});

describe('inside a recording', () => {
  test('20 dB under the loud parts is −1, strength is itself, a held pitch is 0', () => {
    const want = [...new Array<number>(BAND_COUNT + 1).fill(-1), 0.5, 0];
    for (const frame of context(levelAt(-30, -10), pathOf(flat()), 30)) expect(frame).toEqual(want);
  });

  test('levels 60 dB under the loud parts and lower are all −3', () => {
    const [deep, deeper] = [-75, -100].map((db) => context(levelAt(db, -15), pathOf(flat()), 30));
    expect(deep).toEqual(deeper);
    expect(deep![0]!.slice(0, BAND_COUNT + 1)).toEqual(new Array(BAND_COUNT + 1).fill(-3));
  });

  test('the pitch is told in units of two semitones above the frame in question, ±3 semitones at most', () => {
    const pitch = flat();
    pitch[29] = 61;
    pitch[31] = 59.5;
    pitch[32] = 80;
    pitch[28] = 40;
    const told = context(levelAt(-10, -10), pathOf(pitch), 30).map((f) => f.at(-1));
    expect(told.slice(MIDDLE - 2, MIDDLE + 3)).toEqual([-1.5, 0.5, 0, -0.25, 1.5]);
  });

  test('a frame without a pitch is told as one that has not moved', () => {
    const none = context(levelAt(-10, -10), pathOf(new Array(60).fill(Number.NaN)), 30);
    expect(none.map((f) => f.at(-1))).toEqual(new Array(FRAMES_SEEN).fill(0));
  });
});

describe('at the ends', () => {
  const beyond = [...new Array<number>(BAND_COUNT + 1).fill(-3), 0, 0];

  test('frames before the first and after the last count as quiet and pitchless', () => {
    const levels = levelAt(-10, -10);
    const first = context(levels, pathOf(flat()), 0);
    const last = context(levels, pathOf(flat()), 59);
    for (let k = 0; k < MIDDLE; k++) {
      expect(first[k]).toEqual(beyond);
      expect(last[MIDDLE + 1 + k]).toEqual(beyond);
    }
    expect(first[MIDDLE]![0]).toBe(0);
    expect(first.slice(MIDDLE)).toEqual(last.slice(0, MIDDLE + 1));
  });

  test('a recording of one frame', () => {
    const all = context(levelAt(-10, -10, 1), pathOf([60]), 0);
    expect(all.filter((f) => f[0] === 0)).toHaveLength(1);
    all.forEach((frame, k) => {
      if (k !== MIDDLE) expect(frame).toEqual(beyond);
    });
  });
});

describe('invariance', () => {
  const samples = sing([{ start: 0.2, end: 0.6, midi: 60 }], 0.8);
  const grid = { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 81 };
  const pitch = Array.from({ length: 81 }, (_, i) => 60 + Math.sin(i));
  const frames = [0, 10, 20, 40, 60, 80];

  test('half as loud a recording has the same context', () => {
    const loud = bandLevels(samples, RATE, grid);
    const soft = bandLevels(
      samples.map((v) => v / 2),
      RATE,
      grid,
    );
    for (const i of frames) {
      const [a, b] = [context(loud, pathOf(pitch), i).flat(), context(soft, pathOf(pitch), i).flat()];
      a.forEach((value, k) => {
        expect(value).toBeCloseTo(b[k]!, 3);
      });
    }
  });

  test('a pitch path k semitones higher has the same context', () => {
    const levels = bandLevels(samples, RATE, grid);
    for (const i of frames) {
      const here = context(levels, pathOf(pitch), i).flat();
      const higher = context(levels, pathOf(pitch.map((p) => p + 7)), i).flat();
      higher.forEach((value, k) => {
        expect(value).toBeCloseTo(here[k]!, 4);
      });
    }
  });
});
