import { describe, expect, test } from 'vitest';
import { scoreStretch } from './stretch-scores.js';

const RATE = 44_100;
/** A tone of three harmonics that is struck at 0.5 s and again at 1.2 s, at a speed and a pitch of A3 and some cents. */
const played = (speed: number, cents = 0) =>
  Float32Array.from({ length: Math.round((2 * RATE) / speed) }, (_, i) => {
    const t = i / RATE;
    const since = [0.5, 1.2].map((at) => t - at / speed).filter((s) => s >= 0);
    const level = since.length === 0 ? 0 : Math.exp(-2 * speed * since.at(-1)!);
    const hz = 220 * 2 ** (cents / 1200);
    return level * [1, 2, 3].reduce((sum, n) => sum + (0.3 / n) * Math.sin(2 * Math.PI * hz * n * t), 0);
  });
const NOTES = [
  { start: 0.5, end: 1.2, pitch: 57 },
  { start: 1.2, end: 2, pitch: 57 },
];
const SOUND = { samples: played(1), rate: RATE };

describe('the scores of a stretched sound', () => {
  test('are perfect for the same music played slower', () => {
    const scores = scoreStretch(played(0.5), SOUND, 0.5, NOTES);
    expect(scores.medianCents).toBeLessThan(0.2);
    expect(scores.lengthPercent).toBeLessThan(0.01);
    expect(scores.clicks).toBe(0);
    expect(Math.abs(scores.smearDb)).toBeLessThan(2);
  });

  test('tell pitch and length that are off', () => {
    const scores = scoreStretch(played(0.5, 7).subarray(0, 3.9 * RATE), SOUND, 0.5, NOTES);
    expect(scores.medianCents).toBeCloseTo(7, 0);
    expect(scores.lengthPercent).toBeCloseTo(2.5, 1);
  });

  test('tell a jump in the waveform, and attacks that begin early', () => {
    const broken = played(0.5).map((x, i) => (i > 1.7 * RATE ? x + 0.05 : x));
    expect(scoreStretch(broken, SOUND, 0.5, NOTES).clicks).toBeGreaterThan(0);
    const early = played(0.5);
    for (let i = 0; i < 0.03 * RATE; i++) early[Math.round(0.97 * RATE) + i] = 0.2 * Math.sin(i / 20);
    expect(scoreStretch(early, SOUND, 0.5, NOTES).smearDb).toBeGreaterThan(10);
  });
});
