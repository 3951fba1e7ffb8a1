import { agreement, BLOCK_FRAMES, type Tempogram } from './tempogram.js';

/** How far a tempo may move from its mean, natural logarithm of the ratio: about 15 % to either side. */
const RANGE = 0.15;
/** Periods tried over that range, 1 % apart. */
const STEPS = 31;
/** Steps that a period may move in a block: 4 % a second. */
const FASTEST = 4;
/** Agreement lost for a change of period, times the square of its logarithm: 1 % costs 0.08, 4 % 1.3. */
const CHANGE_COST = 800;
/** Cost of a beat's length in accents, times the square of the logarithm of its ratio to the period (Ellis 2007, α). */
const LENGTH_COST = 200;
/** Shortest and longest step from a beat to the next, in periods. */
const SHORTEST_STEP = 0.62;
const LONGEST_STEP = 1.6;

/** The period in frames at every block: the path through the tempogram near `period` that agrees best and moves least. */
export function followPeriod({ rows }: Tempogram, period: number): Float32Array {
  const step = (2 * RANGE) / (STEPS - 1);
  const periods = Float64Array.from({ length: STEPS }, (_, k) => period * Math.exp(k * step - RANGE));
  let score = new Float64Array(STEPS);
  const from: Int8Array[] = [];
  for (let block = 0; block < rows.length; block++) {
    const back = new Int8Array(STEPS);
    const next = new Float64Array(STEPS);
    for (let k = 0; k < STEPS; k++) {
      let best = k;
      let most = Number.NEGATIVE_INFINITY;
      const last = Math.min(STEPS - 1, k + FASTEST);
      for (let j = Math.max(0, k - FASTEST); j <= last; j++) {
        const value = score[j]! - CHANGE_COST * ((k - j) * step) ** 2;
        if (value > most) {
          most = value;
          best = j;
        }
      }
      back[k] = best;
      next[k] = (block > 0 ? most : 0) + agreement(rows[block]!, periods[k]!);
    }
    score = next;
    from.push(back);
  }
  const path = new Float32Array(rows.length);
  let at = score.indexOf(Math.max(...score));
  for (let block = rows.length - 1; block >= 0; block--) {
    path[block] = periods[at]!;
    at = from[block]![at]!;
  }
  return path;
}

/**
 * Frames of beats: the chain through the accents that gathers the most while its steps stay near the period.
 *
 * Source: D. P. W. Ellis, "Beat tracking by dynamic programming", Journal of New Music Research 36(1), 2007, with a
 * period that moves (`path`, one a block). Linear in the frames.
 */
export function beatChain(accents: Float32Array, path: Float32Array): number[] {
  const count = accents.length;
  const gathered = new Float64Array(count);
  const before = new Int32Array(count).fill(-1);
  const costs = new Map<number, Float64Array>();
  for (let i = 0; i < count; i++) {
    const period = periodAt(path, i);
    let cost = costs.get(period);
    if (cost === undefined) {
      cost = stepCosts(period);
      costs.set(period, cost);
    }
    const shortest = Math.ceil(SHORTEST_STEP * period);
    let best = -1;
    let most = 0;
    for (let k = shortest, j = i - shortest; k < cost.length && j >= 0; k++, j--) {
      const value = gathered[j]! - cost[k]!;
      if (value > most || best < 0) {
        most = value;
        best = j;
      }
    }
    gathered[i] = accents[i]! + most;
    before[i] = best;
  }
  // The last beat is in the last 1.2 periods.
  let last = count - 1;
  for (let i = Math.max(0, Math.floor(count - 1.2 * periodAt(path, count - 1))); i < count; i++) {
    if (gathered[i]! > gathered[last]!) last = i;
  }
  const beats: number[] = [];
  for (let i = last; i >= 0; i = before[i]!) beats.push(i);
  return beats.reverse();
}

/** The period at a frame, by a straight line between the middles of blocks, in quarters of a frame. */
function periodAt(path: Float32Array, frame: number): number {
  const at = Math.min(Math.max(frame / BLOCK_FRAMES - 0.5, 0), path.length - 1);
  const block = Math.floor(at);
  const next = Math.min(block + 1, path.length - 1);
  return Math.round(4 * (path[block]! + (at - block) * (path[next]! - path[block]!))) / 4;
}

/** Cost of a step of so many frames, up to the longest. */
function stepCosts(period: number): Float64Array {
  return Float64Array.from({ length: Math.floor(LONGEST_STEP * period) + 1 }, (_, frames) =>
    frames === 0 ? Number.POSITIVE_INFINITY : LENGTH_COST * Math.log(frames / period) ** 2,
  );
}
