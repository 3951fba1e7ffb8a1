import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bestPath } from '../../src/pitch/best-path.js';
import { MAX_CANDIDATES } from '../../src/pitch/candidates.js';
import { type Candidate, candidatesOf } from './candidates.js';

const path = (frames: readonly (readonly Candidate[])[]) => [...bestPath(candidatesOf(frames)).pitch];
const repeat = <T>(count: number, value: T): T[] => new Array<T>(count).fill(value);

test('a single candidate a frame is the path, with its strength', () => {
  const { pitch, strength } = bestPath(candidatesOf([[[60, 0.5]], [[60.25, 1]], [[64, 0.75]]]));
  expect([...pitch]).toEqual([60, 60.25, 64]);
  expect([...strength]).toEqual([0.5, 1, 0.75]);
});

test('one frame in which the octave below is stronger does not break a held pitch', () => {
  const held: Candidate[] = [
    [60, 0.95],
    [48, 0.95],
  ];
  const slip: Candidate[] = [
    [48, 0.99],
    [60, 0.7],
  ];
  expect(path([...repeat(10, held), slip, slip, ...repeat(10, held)])).toEqual(repeat(22, 60));
});

test('of a pitch and its octave below, equally periodic, the higher is meant, whatever the order', () => {
  const both: Candidate[] = [
    [48, 0.98],
    [60, 0.98],
  ];
  expect(path(repeat(5, both))).toEqual(repeat(5, 60));
  expect(path(repeat(5, both.toReversed()))).toEqual(repeat(5, 60));
});

test('a far stronger octave below is the pitch', () => {
  const frame: Candidate[] = [
    [48, 0.95],
    [60, 0.5],
  ];
  expect(path(repeat(5, frame))).toEqual(repeat(5, 48));
});

test('a leap that lasts is followed at its frame', () => {
  const low: Candidate[] = [
    [60, 0.95],
    [72, 0.3],
  ];
  const high: Candidate[] = [
    [60, 0.3],
    [72, 0.95],
  ];
  expect(path([...repeat(8, low), ...repeat(8, high)])).toEqual([...repeat(8, 60), ...repeat(8, 72)]);
});

test('frames without candidates hold the pitch before them, those at the start the first; strength is 0', () => {
  const { pitch, strength } = bestPath(candidatesOf([[], [[60, 0.5]], [], [], [[62, 0.5]], []]));
  expect([...pitch]).toEqual([60, 60, 60, 60, 62, 62]);
  expect([...strength]).toEqual([0, 0.5, 0, 0, 0.5, 0]);
});

test('without any candidate every pitch is NaN and every strength 0', () => {
  const { pitch, strength } = bestPath(candidatesOf([[], [], []]));
  expect([...pitch]).toEqual(repeat(3, Number.NaN));
  expect([...strength]).toEqual([0, 0, 0]);
});

test('a pause makes a leap cheaper', () => {
  // After the tone an ambiguous frame: next to it the nearer pitch wins, after a pause the stronger one.
  const tone: Candidate[] = [[60, 0.9]];
  const doubtful: Candidate[] = [
    [60, 0.7],
    [65, 0.8],
  ];
  expect(path([tone, doubtful]).at(-1)).toBe(60);
  expect(path([tone, ...repeat(20, []), doubtful]).at(-1)).toBe(65);
});

test('the path takes one of the candidates of every frame that has any, and leaves them as they were', () => {
  const frame = fc.array(
    fc.tuple(
      fc.integer({ min: 40, max: 90 }),
      fc.integer({ min: 1, max: 8 }).map((s) => s / 8),
    ),
    { maxLength: MAX_CANDIDATES },
  );
  fc.assert(
    fc.property(fc.array(frame, { minLength: 1, maxLength: 40 }), (frames) => {
      const given = candidatesOf(frames);
      const { pitch, strength } = bestPath(given);
      frames.forEach((options, i) => {
        if (options.length === 0) expect(strength[i]).toBe(0);
        else expect(options).toContainEqual([pitch[i], strength[i]]);
      });
      expect(given).toEqual(candidatesOf(frames));
    }),
  );
});

// Seeded: among exact ties rounding decides, and it may differ between the two.
test('moved by a whole number of semitones, the candidates give the same path, moved', () => {
  const frame = fc.array(
    fc.tuple(
      fc.integer({ min: 40, max: 80 }),
      fc.integer({ min: 1, max: 1000 }).map((s) => s / 1000),
    ),
    { minLength: 1, maxLength: 4 },
  );
  fc.assert(
    fc.property(
      fc.array(frame, { minLength: 1, maxLength: 20 }),
      fc.integer({ min: -12, max: 12 }),
      (f, k) => {
        const cost = (pitch: readonly number[], strength: Float32Array) =>
          pitch.map((p, i) => [p, strength[i]]);
        const here = bestPath(candidatesOf(f));
        const moved = bestPath(candidatesOf(f.map((c) => c.map(([p, s]) => [p + k, s] as const))));
        expect(
          cost(
            [...moved.pitch].map((p) => p - k),
            moved.strength,
          ),
        ).toEqual(cost([...here.pitch], here.strength));
      },
    ),
    { numRuns: 50, seed: 1 },
  );
});

test('a bonus decides where the candidates are alike, and each candidate has its own', () => {
  const frames = repeat<Candidate[]>(3, [
    [60, 0.9],
    [64, 0.9],
  ]);
  const bonus = new Float32Array(3 * MAX_CANDIDATES);
  expect([...bestPath(candidatesOf(frames), bonus).pitch]).toEqual(repeat(3, 64));
  for (let i = 0; i < 3; i++) bonus[i * MAX_CANDIDATES] = 0.1;
  const { pitch, strength } = bestPath(candidatesOf(frames), bonus);
  expect([...pitch]).toEqual(repeat(3, 60));
  // The strength told is the candidate's own.
  for (const s of strength) expect(s).toBeCloseTo(0.9, 6);
});
