/** The path among candidates that the melody around makes likelier: doubled periods, consonants, and true leaps. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bestPath } from '../../src/pitch/best-path.js';
import { MAX_CANDIDATES, type PitchCandidates } from '../../src/pitch/candidates.js';
import { periodicity } from '../../src/pitch/periodicity.js';
import { pathInRegister, registerBonus } from '../../src/pitch/register.js';
import { type Candidate, candidatesOf } from './candidates.js';
import { centsAbove, longAndShort, loudAndSoft, RATE, steady, tone } from './signals.js';

const RANGE = { lowestHz: 55, highestHz: 1500 };
const inRegister = (candidates: PitchCandidates) => pathInRegister(candidates, bestPath(candidates)).pitch;
const repeat = <T>(count: number, value: T): T[] => new Array<T>(count).fill(value);
const HELD: Candidate[] = [
  [60, 0.98],
  [48, 0.98],
];

/** The path with the register and the path without, over held frames around the given ones; of the given ones only. */
function among(frames: readonly (readonly Candidate[])[]): { with: number[]; without: number[] } {
  const given = candidatesOf([...repeat(100, HELD), ...frames, ...repeat(100, HELD)]);
  const own = (pitch: Float32Array) => [...pitch.subarray(100, -100)];
  return { with: own(inRegister(given)), without: own(bestPath(given).pitch) };
}

describe('what the periodicity leaves open', () => {
  test.each([
    ['an octave', 48],
    ['a twelfth', 41],
  ])('%s below the melody, more periodic for a tenth of a second, is not the pitch', (_, low) => {
    const doubled: Candidate[] = [
      [low, 0.97],
      [60, 0.7],
    ];
    const path = among(repeat(15, doubled));
    expect(path.without).toContain(low);
    expect(path.with).toEqual(repeat(15, 60));
  });

  test('weak periods far above the melody, as in a consonant, are not the pitch', () => {
    const consonant: Candidate[] = [
      [80, 0.45],
      [60.5, 0.4],
    ];
    const path = among(repeat(15, consonant));
    expect(path.without).toContain(80);
    expect(path.with).toEqual(repeat(15, 60.5));
  });
});

describe('what is sure', () => {
  test.each([72, 79, 84])('a clear short note far above, key %i, stays there', (key) => {
    // A signal that repeats after one period repeats after two, three and four.
    const leap: Candidate[] = [0, 12, 19, 24, 28, 31].map((down) => [key - down, 0.99]);
    expect(among(repeat(40, leap)).with).toEqual(repeat(40, key));
  });

  test('a clear short note an octave below, whose upper octave is hardly periodic, stays there', () => {
    const low: Candidate[] = [
      [48, 0.99],
      [60, 0.6],
    ];
    // A step is cheapest at a weak candidate: it may come a frame late.
    expect(among(repeat(15, low)).with.slice(1, -1)).toEqual(repeat(13, 48));
  });

  test('a melody that goes on an octave lower is followed, though its upper octave is nearly as periodic', () => {
    const low: Candidate[] = [
      [48, 0.98],
      [60, 0.8],
    ];
    const path = inRegister(candidatesOf([...repeat(300, HELD), ...repeat(600, low)]));
    expect([...path.subarray(500)]).toEqual(repeat(400, 48));
  });
});

describe('a voice whose cycles differ in turns', () => {
  const hz = 160;
  const plain = tone(steady(hz), 1);
  /** The voice, doubled from 0.45 s to 0.57 s. */
  const doubledBy = (doubled: Float32Array) =>
    plain.map((v, n) => (n >= 0.45 * RATE && n < 0.57 * RATE ? doubled[n]! : v));
  const largest = (pitch: Float32Array) =>
    Math.max(...Array.from(pitch.subarray(4, -4), (p) => Math.abs(centsAbove(p, hz))));

  test.each([
    ['loud and soft', loudAndSoft(steady(hz), plain, 0.45)],
    ['long and short', tone(longAndShort(steady(hz), 0.16), 1)],
  ])('%s: it is heard at the octave of the rest', (_, doubled) => {
    const candidates = periodicity(doubledBy(doubled), RATE, RANGE);
    expect(largest(bestPath(candidates).pitch)).toBeGreaterThan(1000);
    expect(largest(inRegister(candidates))).toBeLessThan(50);
  });

  test('as low throughout, it is heard an octave lower: nothing speaks against it', () => {
    const low = inRegister(periodicity(loudAndSoft(steady(hz), plain, 0.3), RATE, RANGE));
    for (const p of low.subarray(4, -4)) expect(Math.abs(centsAbove(p, hz / 2))).toBeLessThan(50);
  });
});

describe('the bonus', () => {
  const frame = fc.array(
    fc.tuple(
      fc.integer({ min: 40, max: 90 }),
      fc.integer({ min: 1, max: 100 }).map((s) => s / 100),
    ),
    { maxLength: MAX_CANDIDATES },
  );
  const frames = fc.array(frame, { minLength: 1, maxLength: 150 });
  const bonusOf = (given: PitchCandidates) => registerBonus(given, bestPath(given));

  test('lies between 0 and a fifth, is 0 where there is no candidate, and leaves the candidates as they were', () => {
    fc.assert(
      fc.property(frames, (f) => {
        const given = candidatesOf(f);
        const bonus = bonusOf(given);
        bonus.forEach((b, at) => {
          expect(b).toBeGreaterThanOrEqual(0);
          expect(b).toBeLessThanOrEqual(0.2000001);
          if (at % MAX_CANDIDATES >= f[Math.floor(at / MAX_CANDIDATES)]!.length) expect(b).toBe(0);
        });
        expect(given).toEqual(candidatesOf(f));
      }),
      { numRuns: 30 },
    );
  });

  test('of the melody’s own pitch is the greatest, and falls with the distance', () => {
    const fan: Candidate[] = [60, 61, 63, 66, 70, 75, 81].map((p) => [p, p === 60 ? 1 : 0.3]);
    const bonus = bonusOf(candidatesOf(repeat(60, fan))).subarray(0, fan.length);
    expect(bonus[0]).toBeCloseTo(0.2, 6);
    // A normal curve of 6 semitones: a standard deviation off, e^(−1/2) of it.
    expect(bonus[3]! / bonus[0]!).toBeCloseTo(Math.exp(-0.5), 6);
    bonus.forEach((b, i) => {
      if (i > 0) expect(b).toBeLessThan(bonus[i - 1]!);
    });
  });

  test('of a period that repeats a sure one is no greater than that one’s, unless it is worth more', () => {
    const melody: Candidate[] = [[48, 0.99]];
    const bonusBeside = (upper: number): number => {
      const frame: Candidate[] = [
        [48, 0.99],
        [60, upper],
      ];
      return bonusOf(candidatesOf([...repeat(100, melody), frame]))[100 * MAX_CANDIDATES]!;
    };
    // Two standard deviations off. An octave is worth 0.08 (candidates.ts): 0.95 more than 0.99, 0.85 less.
    expect(bonusBeside(0.95)).toBeCloseTo(0.2 * Math.exp(-2), 2);
    expect(bonusBeside(0.85)).toBeCloseTo(0.2, 2);
  });

  test('moved by a whole number of semitones, the candidates have the same bonus', () => {
    fc.assert(
      fc.property(frames, fc.integer({ min: -5, max: 5 }), (f, k) => {
        const given = candidatesOf(f);
        const path = bestPath(given);
        const moved = registerBonus(
          { ...given, pitch: given.pitch.map((p) => p + k) },
          { ...path, pitch: path.pitch.map((p) => p + k) },
        );
        registerBonus(given, path).forEach((b, at) => {
          if (at % MAX_CANDIDATES < given.count[Math.floor(at / MAX_CANDIDATES)]!) {
            expect(moved[at]).toBeCloseTo(b, 6);
          }
        });
      }),
      { numRuns: 30 },
    );
  });

  test('what was sung more than two and a half seconds away does not count', () => {
    const near = repeat(400, HELD);
    const far: Candidate[] = [[84, 1]];
    const bonus = bonusOf(candidatesOf([...near, ...repeat(500, far)]));
    const alone = bonusOf(candidatesOf(near));
    expect(bonus.subarray(0, 150 * MAX_CANDIDATES)).toEqual(alone.subarray(0, 150 * MAX_CANDIDATES));
    expect(bonus).not.toEqual(alone);
  });

  test('without any candidate there is none', () => {
    expect(bonusOf(candidatesOf([[], [], []])).every((b) => b === 0)).toBe(true);
  });
});
