import { expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import type { BeatMarks } from '../../../src/rhythm/band/choice.js';
import { fitWeights } from './fit.js';

test('a mark that the right candidate has more of gets a weight over 0, one that it has less of under 0, the rest little', () => {
  const random = seededRandom(1);
  const songs = Array.from({ length: 40 }, () =>
    Array.from({ length: 6 }, (_, i) => {
      const marks: BeatMarks = {
        farFromPreferred: random.gauss() - (i === 0 ? 2 : 0),
        lowThirds: random.gauss(),
        lowQuarters: random.gauss(),
        highBeat: random.gauss() + (i === 0 ? 2 : 0),
        changeHalf: random.gauss(),
        changeAlternates: random.gauss(),
        selfLikeness: random.gauss(),
      };
      return { marks, f: i === 0 ? 1 : 0.3 };
    }),
  );
  const weights = fitWeights(songs);
  expect(weights.farFromPreferred).toBeLessThan(-0.8);
  expect(weights.highBeat).toBeGreaterThan(0.8);
  expect(Math.abs(weights.lowThirds)).toBeLessThan(0.5);
});
