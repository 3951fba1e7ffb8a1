import { expect, test } from 'vitest';
import { PitchFit } from '../../src/notes/pitch-fit.js';
import { swinging, trackOf } from './tracks.js';

const costOf = (parts: Parameters<typeof trackOf>[0]) => {
  const track = trackOf(parts);
  return new PitchFit(track).cost(0, track.grid.frameCount);
};

test('a held pitch costs nothing, an empty stretch neither', () => {
  expect(costOf([{ frames: 50, pitch: 60.2 }])).toBe(0);
  expect(new PitchFit(trackOf([{ frames: 50, pitch: 60 }])).cost(20, 20)).toBe(0);
});

test('any stretch is costed by its own best pitch', () => {
  const fit = new PitchFit(
    trackOf([
      { frames: 50, pitch: 60 },
      { frames: 50, pitch: 64 },
    ]),
  );
  expect(fit.cost(0, 50)).toBe(0);
  expect(fit.cost(50, 100)).toBe(0);
  expect(fit.cost(40, 60)).toBeGreaterThan(1);
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
