import { valueAt } from './accents.js';

/** How well the accents agree with themselves some frames later, every BLOCK_FRAMES frames and on the whole. */
export interface Tempogram {
  /** A row a block: the autocorrelation around it for lags 0 … LONGEST_LAG, 1 at lag 0. */
  readonly rows: readonly Float32Array[];
  /** Mean of the rows. */
  readonly mean: Float32Array;
}

/** Frames (of 10 ms) from a row to the next. */
export const BLOCK_FRAMES = 100;
/** Rows either side that count, less and less: windows of 10 s, a few bars. */
const REACH_BLOCKS = 4;
/** Frames: two beats of the slowest tempo. */
const LONGEST_LAG = 320;
/** Multiples of a period that have to agree, too; the k-th counts 1/√k. */
const MULTIPLES = 4;
/** Shortest and longest beat in frames: 222 and 40 beats a minute. */
const SHORTEST_BEAT = 27;
const LONGEST_BEAT = 150;
/** Best periods that are beats to be tried; for the best two of them also what another reading of the metre makes of them. */
const BEST = 4;
const BEST_RELATED = 2;
const RELATED = [2, 1 / 2, 3, 1 / 3, 3 / 2, 2 / 3, 4, 1 / 4];
/** Periods nearer than this share are one. */
const SAME = 0.05;

/**
 * The tempogram of accents (P. Grosche, M. Müller & F. Kurth, ICASSP 2010; here by autocorrelation).
 *
 * Method: products of the accents, their mean taken out, with themselves at every lag, summed over each block; then
 * triangular windows over blocks; each row divided by its value at lag 0.
 */
export function tempogramOf(accents: Float32Array): Tempogram {
  const mean = accents.reduce((sum, value) => sum + value, 0) / Math.max(1, accents.length);
  const centred = accents.map((value) => value - mean);
  const blocks = Array.from({ length: Math.ceil(centred.length / BLOCK_FRAMES) }, (_, block) =>
    products(centred, block * BLOCK_FRAMES, Math.min(centred.length, (block + 1) * BLOCK_FRAMES)),
  );
  const rows: Float32Array[] = [];
  for (let block = 0; block < blocks.length; block++) {
    const row = new Float32Array(LONGEST_LAG + 1);
    const to = Math.min(blocks.length - 1, block + REACH_BLOCKS);
    for (let k = Math.max(0, block - REACH_BLOCKS); k <= to; k++) {
      const weight = 1 - Math.abs(k - block) / (REACH_BLOCKS + 1);
      for (let lag = 0; lag <= LONGEST_LAG; lag++) row[lag]! += weight * blocks[k]![lag]!;
    }
    const whole = row[0]! || 1;
    for (let lag = 0; lag <= LONGEST_LAG; lag++) row[lag]! /= whole;
    rows.push(row);
  }
  const total = new Float32Array(LONGEST_LAG + 1);
  for (const row of rows) for (let lag = 0; lag <= LONGEST_LAG; lag++) total[lag]! += row[lag]! / rows.length;
  return { rows, mean: total };
}

/** Sums over frames from..to − 1 of a value times the one `lag` before, for every lag. */
function products(values: Float32Array, from: number, to: number): Float32Array {
  const sums = new Float32Array(LONGEST_LAG + 1);
  for (let lag = 0; lag <= LONGEST_LAG; lag++) {
    let sum = 0;
    for (let i = Math.max(lag, from); i < to; i++) sum += values[i]! * values[i - lag]!;
    sums[lag] = sum;
  }
  return sums;
}

/** How well a row agrees with a period (frames): the mean over its first multiples (A. Klapuri et al., IEEE TASLP 14(1), 2006). */
export function agreement(row: Float32Array, period: number): number {
  let sum = 0;
  let weights = 0;
  for (let k = 1; k <= MULTIPLES && k * period < LONGEST_LAG; k++) {
    const weight = 1 / Math.sqrt(k);
    sum += weight * valueAt(row, k * period);
    weights += weight;
  }
  return sum / weights;
}

/** Periods in frames that may be the beat: the peaks of the mean agreement, best first, and their multiples and parts. */
export function periodsToTry({ mean }: Tempogram): number[] {
  // In quarters of a frame.
  const curve = Float64Array.from({ length: 4 * LONGEST_BEAT + 1 }, (_, q) =>
    q < 4 * SHORTEST_BEAT ? 0 : agreement(mean, q / 4),
  );
  const peaks: { period: number; height: number }[] = [];
  for (let q = 4 * SHORTEST_BEAT + 1; q < 4 * LONGEST_BEAT; q++) {
    if (curve[q]! >= curve[q - 1]! && curve[q]! > curve[q + 1]!)
      peaks.push({ period: q / 4, height: curve[q]! });
  }
  const best = peaks
    .sort((a, b) => b.height - a.height)
    .slice(0, BEST)
    .map(({ period }) => period);
  const related = best.slice(0, BEST_RELATED).flatMap((period) => RELATED.map((ratio) => ratio * period));
  const chosen: number[] = [];
  for (const period of [...best, ...related]) {
    if (period < SHORTEST_BEAT || period > LONGEST_BEAT) continue;
    if (chosen.every((other) => Math.abs(Math.log(other / period)) >= SAME)) chosen.push(period);
  }
  return chosen;
}
