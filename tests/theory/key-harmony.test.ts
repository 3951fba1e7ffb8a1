import { expect, test } from 'vitest';
import { rankScales, type ScaleEvidence } from '../../src/theory/scales.js';

/** A line that C major and A minor hold alike, ending on the tonic of neither. */
const LINE: ScaleEvidence[] = [64, 67, 69, 67, 64, 62, 64, 67].map((midi) => ({
  midi,
  weight: 1,
  lineEnd: false,
  confidence: 1,
}));
/** Shares of a band that plays the chord of three pitch classes, its root in the bass. */
const band = (root: number, third: number, fifth: number) => ({
  chroma: Array.from({ length: 12 }, (_, pc) => ([root, third, fifth].includes(pc) ? 0.3 : 0.1 / 9)),
  bass: Array.from({ length: 12 }, (_, pc) => (pc === root ? 0.89 : 0.01)),
});
const share = (tonic: string, harmony: ReturnType<typeof band> | null) =>
  rankScales(LINE, undefined, harmony)
    .filter((scale) => scale.tonic === tonic)
    .reduce((sum, scale) => sum + scale.score, 0);

test('a band that stays on C speaks for C, one that stays on A minor for A', () => {
  expect(share('C', band(0, 4, 7))).toBeGreaterThan(share('C', null));
  expect(share('A', band(9, 0, 4))).toBeGreaterThan(share('A', null));
  expect(share('A', band(9, 0, 4))).toBeGreaterThan(share('A', band(0, 4, 7)));
});

test('with a silent band the scores are probabilities still', () => {
  const silent = { chroma: new Array<number>(12).fill(0), bass: new Array<number>(12).fill(0) };
  const sum = rankScales(LINE, undefined, silent).reduce((total, scale) => total + scale.score, 0);
  expect(sum).toBeCloseTo(1, 9);
});
