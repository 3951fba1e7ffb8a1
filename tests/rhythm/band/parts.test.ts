import { describe, expect, test } from 'vitest';
import { accentsOf, valueAt } from '../../../src/rhythm/band/accents.js';
import { beatMarks, beatScore, between } from '../../../src/rhythm/band/choice.js';
import { beatChain, followPeriod } from '../../../src/rhythm/band/follow.js';
import { harmonyChange, harmonySums } from '../../../src/rhythm/band/harmony.js';
import { agreement, periodsToTry, tempogramOf } from '../../../src/rhythm/band/tempogram.js';

/** Ones at the frames, over so many frames. */
function ones(count: number, frames: readonly number[]): Float32Array {
  const out = new Float32Array(count);
  for (const frame of frames) out[Math.round(frame)] = 1;
  return out;
}
const every = (period: number, count: number, first = 20) =>
  Array.from({ length: Math.floor((count - first - 1) / period) + 1 }, (_, k) => first + k * period);

describe('accents', () => {
  const grid = { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 2000 };
  const of = (low: Float32Array) =>
    accentsOf({ grid, low, middle: low, high: low, chroma: new Float32Array(24_000) });

  test('a quiet half counts like a loud one', () => {
    const { all } = of(ones(2000, every(50, 2000)).map((v, i) => v * (i < 1000 ? 1 : 8)));
    expect(Math.abs(all[320]! / all[1620]! - 1)).toBeLessThan(0.7);
  });

  test('a steady sound has none, and silence stays silence', () => {
    expect(Math.max(...of(new Float32Array(2000).fill(3)).all)).toBeLessThan(1e-6);
    expect(Math.max(...of(new Float32Array(2000)).all)).toBe(0);
  });

  test('values between frames lie on a line, and are 0 outside', () => {
    const values = Float32Array.of(1, 3, 5);
    expect([0.5, 1.25, -1, 2.5].map((at) => valueAt(values, at))).toEqual([2, 3.5, 0, 0]);
  });
});

describe('tempogram', () => {
  test('a pulse agrees with its period and not with two thirds of it', () => {
    const { mean } = tempogramOf(ones(3000, every(60, 3000)));
    expect(agreement(mean, 60)).toBeGreaterThan(0.7);
    expect(agreement(mean, 47)).toBeLessThan(0.1);
  });

  test.each([40, 55, 90, 120])('a pulse of %i frames is tried, and its double or half', (period) => {
    const tried = periodsToTry(tempogramOf(ones(4000, every(period, 4000))));
    const has = (value: number) => tried.some((p) => Math.abs(Math.log(p / value)) < 0.05);
    expect(has(period)).toBe(true);
    expect(has(period < 75 ? 2 * period : period / 2)).toBe(true);
    expect(tried.every((p) => p >= 27 && p <= 150)).toBe(true);
  });

  test('of silence nothing is tried', () => {
    expect(periodsToTry(tempogramOf(new Float32Array(1000)))).toEqual([]);
    expect(tempogramOf(new Float32Array(0)).rows).toEqual([]);
  });
});

describe('following', () => {
  const frames: number[] = [];
  for (let at = 20; at < 4000; at += 60 - (8 * at) / 4000) frames.push(at);
  const accents = ones(4000, frames);

  test('a period that falls from 60 to 52 frames is followed', () => {
    const path = followPeriod(tempogramOf(accents), 56);
    expect(Math.abs(path[3]! - 59.5)).toBeLessThan(1.5);
    expect(Math.abs(path[36]! - 52.7)).toBeLessThan(1.5);
  });

  test('the chain takes every onset, and fills in what is left out', () => {
    const gap = accents.map((value, i) => (i > 1000 && i < 1180 ? 0 : value));
    const chain = beatChain(gap, followPeriod(tempogramOf(gap), 56));
    const missed = frames.filter((frame) => chain.every((beat) => Math.abs(beat - frame) > 6));
    expect(missed).toEqual([]);
    expect(chain.length - frames.length).toBeLessThanOrEqual(2);
  });
});

describe('harmony', () => {
  const chroma = new Float32Array(12 * 200);
  for (let i = 0; i < 200; i++) for (const k of i < 100 ? [0, 4, 7] : [2, 5, 9]) chroma[12 * i + k] = 1;
  const sums = harmonySums(chroma);

  test('it changes where another chord begins: −1/3 is the correlation of two sets of three of twelve apart', () => {
    expect(harmonyChange(sums, 100, 40)).toBeCloseTo(4 / 3, 5);
    expect(harmonyChange(sums, 50, 40)).toBeCloseTo(0, 5);
  });

  test('at an end nothing is said', () => {
    expect(harmonyChange(sums, 2, 40)).toBe(0);
    expect(harmonyChange(sums, 199, 40)).toBe(0);
  });
});

describe('choice', () => {
  const count = 4000;
  const strokes = every(60, count);
  const accents = {
    low: ones(count, strokes),
    high: ones(count, strokes),
    all: ones(count, strokes),
  };
  const harmony = harmonySums(new Float32Array(12 * count));
  const marks = (beats: readonly number[]) => beatMarks(beats, accents, harmony, tempogramOf(accents.all));

  test('points between beats', () => {
    expect(between([0, 10, 30], 1 / 2)).toEqual([5, 20]);
  });

  test('0.6 s is the preferred beat; twice that is an octave away', () => {
    expect(marks(strokes).farFromPreferred).toBeCloseTo(0, 6);
    expect(marks(every(120, count)).farFromPreferred).toBeCloseTo(1, 6);
  });

  test('strokes are likelier beats than what lies half-way, and than beats a third as long', () => {
    const score = (beats: readonly number[]) => beatScore(marks(beats));
    expect(score(strokes)).toBeGreaterThan(score(between(strokes, 1 / 2)));
    expect(score(strokes)).toBeGreaterThan(score(every(180, count)));
  });
});
