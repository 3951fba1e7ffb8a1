import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type FrameGrid, frameToSeconds, secondsToFrame } from '../../src/dsp/frame-grid.js';

const GRID: FrameGrid = { hopSeconds: 0.01, firstCentreSeconds: 0.032, frameCount: 100 };

test('frame i is centred at the first centre and i hops', () => {
  expect(frameToSeconds(GRID, 0)).toBe(0.032);
  expect(frameToSeconds(GRID, 10)).toBeCloseTo(0.132, 12);
  expect(frameToSeconds(GRID, 2.5)).toBeCloseTo(0.057, 12);
});

test('a time belongs to the frame whose centre is nearest', () => {
  expect(secondsToFrame(GRID, 0.132)).toBe(10);
  expect(secondsToFrame(GRID, 0.1369)).toBe(10);
  expect(secondsToFrame(GRID, 0.1371)).toBe(11);
});

test('times outside the grid belong to its first or last frame', () => {
  expect(secondsToFrame(GRID, -5)).toBe(0);
  expect(secondsToFrame(GRID, 0)).toBe(0);
  expect(secondsToFrame(GRID, 1.022)).toBe(99);
  expect(secondsToFrame(GRID, 60)).toBe(99);
});

const grids: fc.Arbitrary<FrameGrid> = fc.record({
  hopSeconds: fc.double({ min: 0.001, max: 0.1, noNaN: true }),
  firstCentreSeconds: fc.double({ min: 0, max: 1, noNaN: true }),
  frameCount: fc.integer({ min: 1, max: 100_000 }),
});

test('every frame is found again by its time, on any grid', () => {
  fc.assert(
    fc.property(grids, fc.nat(), (grid, n) => {
      const index = n % grid.frameCount;
      expect(secondsToFrame(grid, frameToSeconds(grid, index))).toBe(index);
    }),
  );
});

test('no time inside the grid is further than half a hop from its frame', () => {
  fc.assert(
    fc.property(grids, fc.double({ min: 0, max: 1, noNaN: true }), (grid, share) => {
      const seconds = grid.firstCentreSeconds + share * (grid.frameCount - 1) * grid.hopSeconds;
      const centre = frameToSeconds(grid, secondsToFrame(grid, seconds));
      expect(Math.abs(centre - seconds)).toBeLessThanOrEqual(grid.hopSeconds / 2 + 1e-9);
    }),
  );
});
