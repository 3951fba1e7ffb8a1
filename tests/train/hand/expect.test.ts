import { expect, test } from 'vitest';
import type { Merits } from '../../../src/hand/merits.js';
import { bestFingers } from '../../../src/hand/search.js';
import { expectedOf } from './expect.js';

const COUNT = 4;

/** Merits without pattern, the same every time. */
function someMerits(): Merits {
  const fill = (size: number, seed: number) =>
    Float64Array.from({ length: size * COUNT }, (_, k) => Math.sin(seed + 1.7 * k) * 2);
  return { own: fill(5, 1), last: fill(25, 2), both: fill(125, 3) };
}

/** Every choice of fingers with its merit, one after the other. */
function all(merits: Merits): { fingers: number[]; merit: number }[] {
  return Array.from({ length: 5 ** COUNT }, (_, code) => {
    const fingers = Array.from({ length: COUNT }, (_, i) => Math.floor(code / 5 ** i) % 5);
    const merit = fingers.reduce((sum, f, i) => {
      const last = i > 0 ? merits.last[25 * i + 5 * fingers[i - 1]! + f]! : 0;
      const both = i > 1 ? merits.both[125 * i + 25 * fingers[i - 2]! + 5 * fingers[i - 1]! + f]! : 0;
      return sum + merits.own[5 * i + f]! + last + both;
    }, 0);
    return { fingers, merit };
  });
}

test('sums and probabilities are those of all choices counted one by one', () => {
  const merits = someMerits();
  const held = Int8Array.from([-1, 2, -1, -1]);
  for (const settled of [null, held]) {
    const choices = all(merits).filter(({ fingers }) => settled === null || fingers[1] === 2);
    const total = choices.reduce((sum, { merit }) => sum + Math.exp(merit), 0);
    const found = expectedOf(merits, COUNT, settled);
    expect(found.logSum).toBeCloseTo(Math.log(total), 9);
    const share = (ok: (fingers: readonly number[]) => boolean) =>
      choices.filter(({ fingers }) => ok(fingers)).reduce((sum, { merit }) => sum + Math.exp(merit), 0) /
      total;
    expect(found.own[0 + 3]).toBeCloseTo(
      share((f) => f[0] === 3),
      9,
    );
    expect(found.own[15 + 4]).toBeCloseTo(
      share((f) => f[3] === 4),
      9,
    );
    expect(found.last[50 + 13]).toBeCloseTo(
      share((f) => f[1] === 2 && f[2] === 3),
      9,
    );
    expect(found.both[375 + 57]).toBeCloseTo(
      share((f) => f[1] === 2 && f[2] === 1 && f[3] === 2),
      9,
    );
  }
});

test('the search finds the best of all choices', () => {
  const merits = someMerits();
  const best = all(merits).reduce((a, b) => (b.merit > a.merit ? b : a));
  expect(bestFingers(merits, COUNT)).toEqual(best.fingers);
});
