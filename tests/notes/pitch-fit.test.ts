import { expect, test } from 'vitest';
import { PitchFit } from '../../src/notes/pitch-fit.js';
import { swinging, trackOf } from './tracks.js';

const costOf = (parts: Parameters<typeof trackOf>[0], first = 0, end = Number.POSITIVE_INFINITY) => {
  const track = trackOf(parts);
  const fit = new PitchFit();
  for (let i = first; i < Math.min(end, track.grid.frameCount); i++) fit.add(track.pitch[i], track.voiced[i]);
  return fit.cost;
};

test('a held pitch costs nothing, no frames neither', () => {
  expect(costOf([{ frames: 50, pitch: 60 }])).toBeCloseTo(0, 9);
  expect(costOf([{ frames: 50, pitch: 60 }], 20, 20)).toBe(0);
});

test('a pitch between the steps costs less than a fiftieth of a frame that is far off', () => {
  const farOff = costOf([
    { frames: 1, pitch: 60 },
    { frames: 1, pitch: 90 },
  ]);
  expect(costOf([{ frames: 1, pitch: 60 + 1 / 6 }])).toBeLessThan(farOff / 50);
});

test('any stretch is costed by its own best pitch', () => {
  const parts = [
    { frames: 50, pitch: 60 },
    { frames: 50, pitch: 64 },
  ];
  expect(costOf(parts, 0, 50)).toBeCloseTo(0, 9);
  expect(costOf(parts, 50, 100)).toBeCloseTo(0, 9);
  expect(costOf(parts, 40, 60)).toBeGreaterThan(1);
});

test('what was added before clearing is forgotten', () => {
  const fit = new PitchFit();
  for (const pitch of [50, 60, 70, 80]) fit.add(pitch, 1);
  expect(fit.cost).toBeGreaterThan(1);
  fit.clear();
  expect(fit.cost).toBe(0);
  for (let i = 0; i < 50; i++) fit.add(60, 1);
  expect(fit.cost).toBeCloseTo(0, 9);
});

test('a vibrato of half a semitone costs far less than two keys two semitones apart', () => {
  const vibrato = costOf([{ frames: 100, pitch: swinging(60, 0.5, 5.5) }]);
  const twoKeys = costOf([
    { frames: 50, pitch: 60 },
    { frames: 50, pitch: 62 },
  ]);
  expect(vibrato).toBeLessThan(twoKeys / 2);
});

test('a slip of two frames costs the same whether it is an octave or two off', () => {
  const slip = (by: number) =>
    costOf([
      { frames: 50, pitch: 60 },
      { frames: 2, pitch: 60 + by, onset: 0 },
      { frames: 50, pitch: 60, onset: 0 },
    ]);
  expect(slip(12)).toBeGreaterThan(0);
  expect(slip(24)).toBeCloseTo(slip(12), 9);
});

test('frames that are hardly voiced hardly count', () => {
  const off = (voiced: number) =>
    costOf([
      { frames: 50, pitch: 60 },
      { frames: 20, pitch: 65, voiced },
    ]);
  expect(off(0.1)).toBeLessThan(off(0.9) / 5);
});

test('a track without any pitch costs nothing', () => {
  expect(costOf([{ frames: 20, pitch: Number.NaN }])).toBe(0);
  expect(costOf([{ frames: 20, pitch: null }])).toBe(0);
});
