import { describe, expect, test } from 'vitest';
import { frameToSeconds } from '../../../src/dsp/frame-grid.js';
import { logBands, pitchClassOf } from '../../../src/rhythm/band/filters.js';
import { onsetStrength } from '../../../src/rhythm/band/onset-strength.js';
import { clicks, RATE } from './signals.js';

const tone = (seconds: number, hzAt: (t: number) => number) => {
  let phase = 0;
  return Float32Array.from({ length: seconds * RATE }, (_, i) => {
    phase += (2 * Math.PI * hzAt(i / RATE)) / RATE;
    return 0.3 * Math.sin(phase);
  });
};
const sum = (values: Float32Array) => values.reduce((a, b) => a + b, 0);

test('clicks peak where they are, within two frames', () => {
  const times = [0.5, 1.013, 1.497, 2.2, 3.333];
  const { grid, high } = onsetStrength(clicks(4, times), RATE);
  for (const time of times) {
    let best = 0;
    for (let i = 0; i < high.length; i++) {
      const near = Math.abs(frameToSeconds(grid, i) - time) < 0.1;
      if (near && (best === 0 || high[i]! > high[best]!)) best = i;
    }
    expect(Math.abs(frameToSeconds(grid, best) - time)).toBeLessThan(0.02);
  }
});

test('the registers part at 200 and 2500 Hz: a tone that begins is heard in its own', () => {
  const begins = (hz: number) =>
    tone(1, () => hz).map((s, i) => (i < 8000 ? 0 : s * Math.min(1, (i - 8000) / 400)));
  const of = (hz: number) => {
    const { low, middle, high } = onsetStrength(begins(hz), RATE);
    return [sum(low), sum(middle), sum(high)].map((v, _, all) => v / Math.max(...all));
  };
  expect(of(80)[0]).toBe(1);
  expect(of(800)[1]).toBe(1);
  expect(of(5000)[2]).toBe(1);
});

test('a vibrato of 80 cents is less than a twentieth of what a step of the same pitch by a third is', () => {
  const wavering = tone(4, (t) => 600 * 2 ** ((0.8 / 12) * Math.sin(2 * Math.PI * 5.5 * t)));
  const stepping = tone(4, (t) => 600 * 2 ** ((Math.floor(t * 2) % 2) / 4));
  const inside = (x: Float32Array) => Math.max(...onsetStrength(x, RATE).middle.subarray(30, 370));
  expect(inside(wavering)).toBeLessThan(inside(stepping) / 20);
});

test('a hundredth of the level is the same strength', () => {
  const samples = clicks(2, [0.5, 1.2]);
  const loud = onsetStrength(samples, RATE);
  const soft = onsetStrength(
    samples.map((s) => s / 100),
    RATE,
  );
  loud.high.forEach((value, i) => {
    expect(soft.high[i]).toBeCloseTo(value, 2);
  });
});

test('the chroma of a tone is highest at its pitch class, counted from A', () => {
  const { chroma } = onsetStrength(
    tone(1, () => 523.25),
    RATE,
  );
  const frame = [...chroma.subarray(12 * 50, 12 * 51)];
  expect(frame.indexOf(Math.max(...frame))).toBe(3);
});

describe('bands', () => {
  const bands = logBands(1024, RATE);

  test('weights sum to 1 and peaks rise', () => {
    for (const { weights } of bands) expect(weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    expect(bands.every(({ hz }, i) => i === 0 || hz > bands[i - 1]!.hz)).toBe(true);
  });

  test('pitch classes are told between 100 and 2000 Hz', () => {
    const of = (hz: number) => pitchClassOf({ first: 0, weights: new Float64Array(0), hz });
    expect([440, 261.63, 880, 50, 3000].map(of)).toEqual([0, 3, 0, null, null]);
  });
});
