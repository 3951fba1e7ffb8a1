import { describe, expect, test } from 'vitest';
import { addClick } from '../../src/audio/piano/click.js';
import { addHeldTone } from '../../src/audio/piano/held-tone.js';
import { addStrike } from '../../src/audio/piano/strike.js';
import { inharmonicity, stringModes } from '../../src/audio/piano/strings.js';
import { midiToHz } from '../../src/units.js';
import { centsOff } from '../dsp/cents-off.js';

const RATE = 44_100;

function struck(midi: number, { velocity = 0.6, held = 1.2, seconds = 2 } = {}): Float32Array {
  const out = new Float32Array(seconds * RATE);
  addStrike(out, RATE, { midi, start: 0.1, end: 0.1 + held, velocity });
  return out;
}

/** Decibels of the RMS between two times. */
function level(samples: Float32Array, from: number, to: number): number {
  const part = samples.subarray(Math.round(from * RATE), Math.round(to * RATE));
  return 10 * Math.log10(part.reduce((sum, x) => sum + x * x, 0) / part.length);
}

/** Centre of the modes' power, hertz. */
function brightness(midi: number, velocity: number): number {
  const modes = stringModes(midi, velocity);
  return modes.reduce((sum, { hz, amplitude }) => sum + hz * amplitude ** 2, 0);
}

const KEYS = [48, 52, 57, 60, 64, 67, 72, 76, 79, 84];

describe('the piano', () => {
  test.each(KEYS)('sounds key %i at equal temperament', (midi) => {
    expect(Math.abs(centsOff(struck(midi), RATE, midiToHz(midi), [0.15, 1.2]))).toBeLessThan(3);
  });

  test('has partials that lie above whole multiples, the more the higher they are, as stiff strings have', () => {
    const [first, , , , fifth] = [1, 2, 3, 4, 5].map((n) => stringModes(60, 0.6)[3 * (n - 1)]!.hz / n);
    expect(1200 * Math.log2(fifth! / first!)).toBeGreaterThan(3);
    // Fletcher & Rossing (1998), table 12.1 and fig. 12.8, give some 0.0004 at C4, growing with the key (from memory).
    expect(inharmonicity(60)).toBeGreaterThan(0.0002);
    expect(inharmonicity(60)).toBeLessThan(0.0006);
    expect(inharmonicity(84)).toBeGreaterThan(4 * inharmonicity(60));
  });

  test('is louder and brighter the harder it is struck', () => {
    const levels = [0.35, 0.6, 0.8].map((velocity) => level(struck(60, { velocity }), 0.1, 0.5));
    expect(levels[1]! - levels[0]!).toBeGreaterThan(4);
    expect(levels[2]! - levels[1]!).toBeGreaterThan(2);
    expect(brightness(60, 0.8)).toBeGreaterThan(1.2 * brightness(60, 0.35));
  });

  test.each([48, 60, 72])('dies away fast and then slowly: key %i', (midi) => {
    const long = struck(midi, { held: 8, seconds: 9 });
    const perSecond = (from: number, to: number) =>
      (level(long, from, from + 0.2) - level(long, to, to + 0.2)) / (to - from);
    expect(perSecond(0.2, 0.7)).toBeGreaterThan(1.6 * perSecond(5, 8));
  });

  test('dies away faster the higher the key', () => {
    const lost = [48, 60, 72, 84].map(
      (midi) => level(struck(midi), 0.15, 0.25) - level(struck(midi), 1, 1.1),
    );
    expect(lost).toEqual([...lost].sort((a, b) => a - b));
  });

  test('is damped when the key is let go, but not in the top octaves, which have no dampers', () => {
    const damped = struck(60, { held: 0.5 });
    expect(level(damped, 0.5, 0.6) - level(damped, 0.9, 1)).toBeGreaterThan(50);
    const free = struck(93, { held: 0.05, seconds: 1 });
    const held = struck(93, { held: 0.5, seconds: 1 });
    expect(Math.max(...free.map((x, i) => Math.abs(x - held[i]!)).subarray(0, 30_000))).toBeLessThan(1e-4);
  });

  test('is silent before the blow and jumps nowhere, at the blow and when it is let go', () => {
    const out = struck(55, { held: 0.5 });
    expect(out.subarray(0, 0.1 * RATE).every((x) => x === 0)).toBe(true);
    let step = 0;
    for (let i = 1; i < out.length; i++) step = Math.max(step, Math.abs(out[i]! - out[i - 1]!));
    const peak = out.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    // A sine of the same peak at 2 kHz moves by 0.28 of it a sample.
    expect(step).toBeLessThan(0.28 * peak);
    const release = out.subarray(0.59 * RATE, 0.61 * RATE);
    const before = out.subarray(0.55 * RATE, 0.59 * RATE);
    const steepest = (part: Float32Array) =>
      part.reduce((most, x, i) => (i === 0 ? 0 : Math.max(most, Math.abs(x - part[i - 1]!))), 0);
    expect(steepest(release)).toBeLessThan(1.3 * steepest(before));
  });

  test.each([0, 21, 108, 127])('sounds key %i too, though hands seldom come there', (midi) => {
    const out = struck(midi, { held: 0.2, seconds: 0.5 });
    expect(out.every(Number.isFinite)).toBe(true);
    expect(level(out, 0.1, 0.15)).toBeGreaterThan(-40);
  });

  test('is the same sound every time, and stops at the end of what it is added to', () => {
    expect(struck(60)).toEqual(struck(60));
    const short = new Float32Array(1000);
    addStrike(short, RATE, { midi: 60, start: 0.02, end: 5, velocity: 0.6 });
    expect(short.every(Number.isFinite)).toBe(true);
  });
});

describe('beside the piano', () => {
  test('a click is short, and the first of a bar is louder', () => {
    const click = (first: boolean) => {
      const out = new Float32Array(RATE / 2);
      addClick(out, RATE, 0.1, first);
      return out;
    };
    expect(
      click(false)
        .subarray(0.2 * RATE)
        .every((x) => x === 0),
    ).toBe(true);
    expect(level(click(true), 0.1, 0.15)).toBeGreaterThan(level(click(false), 0.1, 0.15) + 1);
  });

  test('a held tone has its pitch, swells and is gone at its end', () => {
    const out = new Float32Array(3 * RATE);
    addHeldTone(out, RATE, { midi: 62, start: 0.5, end: 2.5 });
    expect(Math.abs(centsOff(out, RATE, midiToHz(62), [0.6, 2.4]))).toBeLessThan(0.1);
    expect(level(out, 0.5, 0.55)).toBeLessThan(level(out, 1, 1.05) - 15);
    expect(out.subarray(2.5 * RATE).every((x) => x === 0)).toBe(true);
  });
});
