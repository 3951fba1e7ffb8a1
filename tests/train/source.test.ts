import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/maker/random.js';
import { withNoise } from './noise.js';
import { fitLogistic } from './source/logistic.js';
import { together } from './source/recordings.js';
import { amplitudeOf, inRoom } from './source/room.js';
import { whole } from './whole.js';

describe('logistic regression', () => {
  test('one input that is 1 or 0: the weight is the difference of the log odds', () => {
    // Of the ones 3 in 4 answer 1, of the zeros 1 in 4: log odds of ±ln 3.
    const inputs = [1, 1, 1, 1, 0, 0, 0, 0].map((x) => [x]);
    const answers = [1, 1, 1, 0, 0, 0, 0, 1];
    const { weights, bias } = fitLogistic(inputs, answers, new Array(8).fill(1 / 8), 0);
    expect(weights[0]).toBeCloseTo(2 * Math.log(3), 6);
    expect(bias).toBeCloseTo(-Math.log(3), 6);
  });

  test('answers count by their share', () => {
    const inputs = [[-1], [-1], [-1], [-1], [-1], [1], [-1], [1]];
    const answers = [0, 0, 0, 0, 0, 0, 1, 1];
    const shares = answers.map((answer) => (answer === 1 ? 1 / 4 : 1 / 12));
    const { weights, bias } = fitLogistic(inputs, answers, shares, 0);
    // At −1: 5/6 of half the weight against 1/2 of half; at 1: 1/6 against 1/2.
    expect(bias - weights[0]).toBeCloseTo(Math.log(1 / 2 / (5 / 6)), 6);
    expect(bias + weights[0]).toBeCloseTo(Math.log(1 / 2 / (1 / 6)), 6);
  });

  test('a pull keeps the weights finite where the answers are apart', () => {
    const { weights } = fitLogistic([[-1], [1]], [0, 1], [0.5, 0.5], 0.1);
    expect(weights[0]).toBeGreaterThan(0.5);
    expect(weights[0]).toBeLessThan(10);
  });
});

describe('recordings', () => {
  const random = seededRandom(1);
  const sound = Float32Array.from({ length: 16_000 }, () => 0.1 * random.gauss());

  test('are put together at the level asked for, the shorter one anew where it ends', () => {
    const other = Float32Array.from({ length: 5000 }, (_, i) => Math.sin(i));
    const both = together(sound, other, 6);
    const added = both.map((value, i) => value - sound[i]);
    expect(20 * Math.log10(amplitudeOf(sound) / amplitudeOf(added))).toBeCloseTo(6, 1);
    expect(added[5000]).toBeCloseTo(added[0], 5);
  });

  test('in a room keep their length, and the same seed gives the same room', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const once = inRoom(sound, 16_000, seededRandom(seed));
      expect(once).toHaveLength(sound.length);
      expect(once.every(Number.isFinite)).toBe(true);
      expect(inRoom(sound, 16_000, seededRandom(seed))).toEqual(once);
    }
  });

  test('noise lies as far under the recording as was asked for', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const noisy = withNoise(sound, seededRandom(seed), { lowest: 12, highest: 37 });
      const noise = noisy.map((value, i) => value - sound[i]);
      const db = 20 * Math.log10(amplitudeOf(sound) / amplitudeOf(noise));
      expect(db).toBeGreaterThan(11.9);
      expect(db).toBeLessThan(37.1);
    }
  });
});

test('numbers of an option are whole and in their range', () => {
  expect(whole('--seed', '0', 0, 9)).toBe(0);
  for (const text of ['-1', '1.5', '10', '', 'two']) {
    expect(() => whole('--seed', text, 0, 9)).toThrow('--seed is a whole number from 0 to 9');
  }
});
