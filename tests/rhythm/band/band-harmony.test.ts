import { expect, test } from 'vitest';
import { bandHarmony } from '../../../src/rhythm/band/band-harmony.js';
import { midiToHz } from '../../../src/units.js';

const RATE = 16000;

/** Sines of the given keys for two seconds. */
function chord(midis: readonly number[], cents = 0) {
  const samples = Float32Array.from({ length: 2 * RATE }, (_, i) =>
    midis.reduce(
      (sum, midi) => sum + 0.1 * Math.sin((2 * Math.PI * midiToHz(midi + cents / 100) * i) / RATE),
      0,
    ),
  );
  return { samples, sampleRate: RATE } as Parameters<typeof bandHarmony>[0];
}

test('a G major chord over B: G, B and D sound, and the bass is B', () => {
  const { chroma, bass } = bandHarmony(chord([47, 55, 62, 67]), 0);
  expect([7, 11, 2].reduce((sum, pc) => sum + chroma[pc]!, 0)).toBeGreaterThan(0.9);
  expect(bass[11]).toBeGreaterThan(0.9);
});

test('a recording 45 cents sharp is heard in its own tuning', () => {
  const { chroma } = bandHarmony(chord([60, 64, 67], 45), 45);
  expect(chroma[0]! + chroma[4]! + chroma[7]!).toBeGreaterThan(0.9);
});

test('silence has no harmony', () => {
  const { chroma, bass } = bandHarmony(chord([]), 0);
  expect([...chroma, ...bass].every((share) => share === 0)).toBe(true);
});
