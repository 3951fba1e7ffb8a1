import { expect, test } from 'vitest';
import { hannWindow } from '../../src/dsp/window.js';

test('the Hann window of 8 samples, by hand', () => {
  const r = Math.SQRT1_2;
  const byHand = [0, (1 - r) / 2, 0.5, (1 + r) / 2, 1, (1 + r) / 2, 0.5, (1 - r) / 2];
  hannWindow(8).forEach((w, n) => {
    expect(w).toBeCloseTo(byHand[n]!, 14);
  });
});

test('it is periodic: copies half a window apart add up to 1, and the sum of squares is 3/8 of the size', () => {
  for (const size of [2, 16, 512]) {
    const w = hannWindow(size);
    for (let n = 0; n < size / 2; n++) expect(w[n]! + w[n + size / 2]!).toBeCloseTo(1, 12);
    if (size > 2) expect(w.reduce((sum, v) => sum + v * v, 0)).toBeCloseTo((3 * size) / 8, 9);
  }
});
