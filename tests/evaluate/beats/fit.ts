/**
 * Weights of the choice among beats (src/rhythm/band/choice.ts) by multinomial logistic regression: the marks of all
 * candidates of a song go in, and the candidates whose beats are about right are to be likely.
 */
import type { BeatMarks } from '../../../src/rhythm/band/choice.js';

export interface JudgedCandidate {
  readonly marks: BeatMarks;
  /** Beat F, 0..1. */
  readonly f: number;
}

/** Candidates so near to the song's best are right, too. */
const AS_GOOD = 0.05;
/** Songs whose best candidate has less teach nothing. */
const LEAST_F = 0.6;
/** Penalty of the sum of squared weights of marks scaled to standard deviation 1; 0.003 to 0.03 measured alike. */
const RIDGE = 0.01;
/** Steps of gradient descent and their size: by then the weights stand still. */
const STEPS = 4000;
const STEP = 0.3;

/** Weights that make the right candidates of every song likeliest together, in order of the marks' names. */
export function fitWeights(songs: readonly (readonly JudgedCandidate[])[]): BeatMarks {
  const names = Object.keys(songs[0]![0]!.marks) as (keyof BeatMarks)[];
  const all = songs.flat();
  const spread = names.map((name) => {
    const values = all.map(({ marks }) => marks[name]);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length) || 1;
  });
  const taught = songs.flatMap((song) => {
    const best = Math.max(...song.map(({ f }) => f));
    if (best < LEAST_F) return [];
    return [
      song.map(({ marks, f }) => ({
        x: names.map((name, k) => marks[name] / spread[k]!),
        right: f >= best - AS_GOOD,
      })),
    ];
  });
  const weights = names.map(() => 0);
  for (let step = 0; step < STEPS; step++) {
    const slope = weights.map((weight) => -2 * RIDGE * weight);
    for (const song of taught) {
      const scores = song.map(({ x }) => x.reduce((sum, value, k) => sum + value * weights[k]!, 0));
      const top = Math.max(...scores);
      const odds = scores.map((score) => Math.exp(score - top));
      const total = odds.reduce((sum, value) => sum + value, 0);
      const right = odds.reduce((sum, value, i) => sum + (song[i]!.right ? value : 0), 0);
      song.forEach(({ x, right: isRight }, i) => {
        const pull = (isRight ? odds[i]! / right : 0) - odds[i]! / total;
        for (let k = 0; k < x.length; k++) slope[k]! += (pull * x[k]!) / taught.length;
      });
    }
    for (let k = 0; k < weights.length; k++) weights[k]! += STEP * slope[k]!;
  }
  return Object.fromEntries(names.map((name, k) => [name, weights[k]! / spread[k]!])) as unknown as BeatMarks;
}
