/** The inputs against those of the training program (src/pitch/network/training/golden.py wrote golden.json). */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  harmonicFrames,
  LOG_BINS,
  logSpectra,
  PITCH_BINS,
  STACK_CHANNELS,
  writeStack,
} from '../../../src/pitch/network/harmonic.js';
import { levelGain } from '../../../src/pitch/network/level.js';
import { fineLevels, MEL_BANDS } from '../../../src/pitch/network/mel.js';
import { SOLO_VALUES, soloFrames } from '../../../src/pitch/network/solo-frames.js';

interface Golden {
  gain: number;
  harmonicsShape: number[];
  fineShape: number[];
  soloShape: number[];
  spectrum: Record<string, number[]>;
  stack: number[];
  fine: Record<string, number[]>;
  solo: Record<string, number[]>;
}

const RATE = 16_000;
const SAMPLES = 16_123;
const STACK_FRAME = 23;
const STACK_STEP = 7;
const golden = JSON.parse(readFileSync(new URL('./golden.json', import.meta.url).pathname, 'utf8')) as Golden;

/** A gliding voice of eight partials that comes in after 0.1 s, over noise of Lehmer's generator. */
function clip(): Float32Array {
  let state = 1;
  return Float32Array.from({ length: SAMPLES }, (_, i) => {
    const seconds = i / RATE;
    const turns = 196 * seconds + 30 * seconds ** 2;
    let voice = 0;
    for (let h = 1; h <= 8; h++) voice += Math.sin(2 * Math.PI * h * turns) / h;
    state = (state * 48_271) % 2_147_483_647;
    return 0.1 * (seconds >= 0.1 ? voice : 0) + 0.003 * (state / 1_073_741_823 - 1);
  });
}

const samples = clip();
const gain = levelGain(samples);
const fineCount = Math.floor(SAMPLES / 160) + 1;
const count = harmonicFrames(SAMPLES);
const levels = fineLevels(samples, gain, 2 * count);
const spectrum = new Float32Array(count * LOG_BINS);
logSpectra().write({ samples, side: null, gain }, 0, count, spectrum);

function largestDifference(ours: ArrayLike<number>, theirs: readonly number[]): number {
  expect(ours.length).toBe(theirs.length);
  return theirs.reduce((most, value, i) => Math.max(most, Math.abs(value - ours[i]!)), 0);
}

describe('the inputs are those of the training program, to a thousandth', () => {
  test('the gain', () => {
    expect(Math.abs(gain / golden.gain - 1)).toBeLessThan(1e-5);
  });

  test('the log spectrum', () => {
    for (const [t, theirs] of Object.entries(golden.spectrum)) {
      const ours = spectrum.subarray(Number(t) * LOG_BINS, (Number(t) + 1) * LOG_BINS);
      expect(largestDifference(ours, theirs)).toBeLessThan(1e-3);
    }
  });

  test('the harmonic stack', () => {
    expect(golden.harmonicsShape).toEqual([1, STACK_CHANNELS, count, PITCH_BINS]);
    const stack = new Float32Array(STACK_CHANNELS * count * PITCH_BINS);
    writeStack(spectrum, count, stack);
    const ours: number[] = [];
    for (let h = 0; h < STACK_CHANNELS; h++) {
      for (let k = 0; k < PITCH_BINS; k += STACK_STEP) {
        ours.push(stack[(h * count + STACK_FRAME) * PITCH_BINS + k]!);
      }
    }
    expect(largestDifference(ours, golden.stack)).toBeLessThan(1e-3);
  });

  test('the fine levels, two moments a frame', () => {
    expect(golden.fineShape).toEqual([1, 2 * MEL_BANDS, count]);
    for (const [t, theirs] of Object.entries(golden.fine)) {
      const from = 2 * Number(t) * MEL_BANDS;
      expect(largestDifference(levels.mel.subarray(from, from + 2 * MEL_BANDS), theirs)).toBeLessThan(1e-3);
    }
  });

  test("the solo network's frames", () => {
    expect(golden.soloShape).toEqual([1, SOLO_VALUES, fineCount]);
    const pitch = Float32Array.from({ length: fineCount }, (_, u) =>
      u === 40 ? Number.NaN : 60 + 2 * Math.sin(u / 7),
    );
    const strength = Float32Array.from({ length: fineCount }, (_, u) => 0.5 + 0.5 * Math.cos(u / 11));
    const frames = soloFrames(fineLevels(samples, gain, fineCount), { pitch, strength });
    for (const [u, theirs] of Object.entries(golden.solo)) {
      const ours = Array.from({ length: SOLO_VALUES }, (_, c) => frames[c * fineCount + Number(u)]!);
      expect(largestDifference(ours, theirs)).toBeLessThan(1e-3);
    }
  });
});
