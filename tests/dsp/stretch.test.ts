import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findAttacks } from '../../src/dsp/stretch/attacks.js';
import { stretch } from '../../src/dsp/stretch/stretch.js';
import { followMap, timeMap } from '../../src/dsp/stretch/time-map.js';
import { centsOff } from './cents-off.js';

const RATE = 44_100;
const sound = (seconds: number, of: (t: number) => number) =>
  Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => of(i / RATE));
const rms = (samples: Float32Array) => Math.sqrt(samples.reduce((s, x) => s + x * x, 0) / samples.length);
const part = (samples: Float32Array, from: number, to: number) =>
  samples.subarray(Math.round(from * RATE), Math.round(to * RATE));
/** A voice's harmonics without its vibrato. */
const voice = (hz: number) => (t: number) =>
  [1, 0.6, 0.5, 0.3, 0.2].reduce((s, a, n) => s + 0.2 * a * Math.sin(2 * Math.PI * hz * (n + 1) * t), 0);
const SPEEDS = [0.5, 0.7, 0.85, 1.25];

describe('stretch', () => {
  test('is as long as the speed says, at any speed', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 9000 }),
        fc.double({ min: 0.25, max: 2, noNaN: true }),
        (n, speed) => {
          const out = stretch(new Float32Array(n).fill(0.1), RATE, speed);
          expect(out.length).toBe(Math.round(n / speed));
          expect(out.every(Number.isFinite)).toBe(true);
        },
      ),
      { numRuns: 20 },
    );
  });

  test.each(SPEEDS)('keeps pitch and level of a tone with harmonics at speed %f', (speed) => {
    const hz = 220;
    const out = stretch(sound(1.6, voice(hz)), RATE, speed);
    const inside = [0.2 / speed, 1.4 / speed] as const;
    expect(Math.abs(centsOff(out, RATE, hz, inside))).toBeLessThan(0.5);
    expect(Math.abs(centsOff(out, RATE, 3 * hz, inside))).toBeLessThan(0.5);
    const level = 20 * Math.log10(rms(part(out, ...inside)) / rms(sound(1, voice(hz))));
    expect(Math.abs(level)).toBeLessThan(0.3);
  });

  test.each(SPEEDS)('lets an attack pass whole, in its place, at speed %f', (speed) => {
    // A struck tone at 0.6 s over nothing.
    const struck = sound(1.5, (t) => (t < 0.6 ? 0 : Math.exp(-4 * (t - 0.6)) * voice(330)(t - 0.6 + 0.001)));
    const out = stretch(struck, RATE, speed);
    const at = 0.6 / speed;
    expect(rms(part(out, at - 0.03, at - 0.003))).toBeLessThan(0.02 * rms(part(out, at, at + 0.03)));
    const ratio = rms(part(out, at, at + 0.01)) / rms(part(struck, 0.6, 0.61));
    expect(Math.abs(20 * Math.log10(ratio))).toBeLessThan(1);
  });

  test.each(SPEEDS)('keeps a knock over a held tone as sharp as it was, at speed %f', (speed) => {
    const held = sound(1.5, (t) => 0.05 * Math.sin(2 * Math.PI * 311 * t));
    const at = Math.round(0.6 * RATE);
    held[at]! += 0.8;
    const out = stretch(held, RATE, speed);
    const near = out.subarray(Math.round(at / speed) - 200, Math.round(at / speed) + 200);
    expect(near.reduce((most, x) => Math.max(most, Math.abs(x)), 0)).toBeGreaterThan(0.7);
    expect(rms(part(out, 0.3 / speed, 0.55 / speed))).toBeCloseTo(0.05 / Math.SQRT2, 3);
  });

  test.each(SPEEDS)('puts no jump into a smooth sound at speed %f', (speed) => {
    // Fourth differences see a step of the waveform far above what harmonics below 1.2 kHz give.
    const roughest = (samples: Float32Array) => {
      let most = 0;
      for (let i = 0; i + 4 < samples.length; i++) {
        const [a, b, c, d, e] = samples.subarray(i, i + 5);
        most = Math.max(most, Math.abs(a! - 4 * b! + 6 * c! - 4 * d! + e!));
      }
      return most;
    };
    const glide = sound(1.6, (t) => voice(200)(t + 0.01 * Math.sin(2 * Math.PI * 2 * t)));
    const out = stretch(glide, RATE, speed);
    expect(roughest(part(out, 0.1, 1.5 / speed))).toBeLessThan(1.5 * roughest(part(glide, 0.1, 1.5)));
    const broken = part(out, 0.1, 1.5 / speed).map((x, i) => (i > 20_000 ? x + 0.01 : x));
    expect(roughest(broken)).toBeGreaterThan(1.5 * roughest(part(glide, 0.1, 1.5)));
  });

  test('leaves silence silent, and a sound at its own speed as it is', () => {
    expect(stretch(new Float32Array(5000), RATE, 0.5).every((x) => x === 0)).toBe(true);
    const tone = sound(0.1, voice(300));
    expect(stretch(tone, RATE, 1)).toEqual(tone);
  });

  test('refuses a speed that is not above 0', () => {
    expect(() => stretch(new Float32Array(10), RATE, 0)).toThrow(RangeError);
  });
});

describe('the time map', () => {
  const kept = { beforeSamples: 1500, afterSamples: 750 };

  test('rises in both times, ends where even stretching ends, and keeps every attack in place at its own speed', () => {
    const attacks = fc
      .uniqueArray(fc.integer({ min: 1, max: 99_999 }), { maxLength: 12 })
      .map((list) => list.sort((a, b) => a - b));
    fc.assert(
      fc.property(attacks, fc.double({ min: 0.25, max: 2, noNaN: true }), (list, speed) => {
        const anchors = timeMap(100_000, speed, list, kept);
        anchors.slice(1).forEach((anchor, i) => {
          expect(anchor.out).toBeGreaterThan(anchors[i]!.out);
          expect(anchor.in).toBeGreaterThan(anchors[i]!.in);
        });
        expect(anchors.at(-1)).toEqual({ out: 100_000 / speed, in: 100_000 });
        const at = followMap(anchors);
        for (const attack of list) {
          expect(at(attack / speed)).toBeCloseTo(attack, 5);
        }
      }),
    );
  });
});

describe('attacks', () => {
  test('are found where a struck sound begins, to 5 ms, and not in a held or swelling tone', () => {
    const times = [0.3, 0.75, 1.2];
    const struck = sound(1.6, (t) =>
      times.reduce((s, at, n) => s + (t < at ? 0 : Math.exp(-6 * (t - at)) * voice(200 + 90 * n)(t - at)), 0),
    );
    const found = findAttacks(struck, RATE);
    expect(found).toHaveLength(3);
    found.forEach((at, i) => {
      expect(Math.abs(at / RATE - times[i]!)).toBeLessThan(0.005);
    });
    const swelling = sound(1.5, (t) => Math.sin((Math.PI * t) / 1.5) * voice(200)(t));
    expect(findAttacks(swelling, RATE).filter((at) => at > 0.1 * RATE)).toEqual([]);
  });
});
