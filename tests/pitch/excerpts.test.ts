import { describe, expect, test } from 'vitest';
import { excerptsOf, powersOf } from '../../src/pitch/excerpts.js';
import { RATE, steady, tone } from './signals.js';

describe('powers', () => {
  test('of a tone: half its squared amplitude, every 10 ms, whatever the constant under it', () => {
    const sine = tone(steady(1000), 1, { partials: [1], gain: 0.5 });
    const powers = powersOf(
      sine.map((value) => value + 0.3),
      RATE,
    );
    expect(powers).toHaveLength(100);
    // The high-pass has forgotten the constant after half a second; it takes (2π·60/16000)² and so about 3 % in all.
    for (const power of powers.slice(50)) expect(Math.abs(power - 0.125)).toBeLessThan(0.005);
  });

  test('an incomplete 10 ms at the end is left out', () => {
    expect(powersOf(new Float32Array(159), RATE)).toHaveLength(0);
    expect(powersOf(new Float32Array(321), RATE)).toHaveLength(2);
  });
});

describe('excerpts', () => {
  test('of 20 s or less: the whole', () => {
    expect(excerptsOf(new Float32Array(2000))).toEqual([{ first: 0, length: 2000 }]);
    expect(excerptsOf(new Float32Array(0))).toEqual([{ first: 0, length: 0 }]);
  });

  test('of more: the loudest 2 s of each tenth, inside it', () => {
    // 100 s: in each 10 s the three from the third on are loud, the last two of them most.
    const powers = Float32Array.from({ length: 10_000 }, (_, i) =>
      i % 1000 >= 300 && i % 1000 < 600 ? (i % 1000 < 400 ? 0.5 : 1) : 0.1,
    );
    powers.fill(2, 5720, 5920);
    const excerpts = excerptsOf(powers);
    expect(excerpts).toHaveLength(10);
    expect(excerpts.map(({ first }) => first)).toEqual(
      [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((k) => (k === 5 ? 5720 : 1000 * k + 400)),
    );
    expect(new Set(excerpts.map(({ length }) => length))).toEqual(new Set([200]));
  });

  test('of just over 20 s they do not pass the end', () => {
    for (const length of [2001, 2009, 2222]) {
      for (const { first, length: taken } of excerptsOf(new Float32Array(length).fill(1))) {
        expect(first).toBeGreaterThanOrEqual(0);
        expect(first + taken).toBeLessThanOrEqual(length);
      }
    }
  });
});
