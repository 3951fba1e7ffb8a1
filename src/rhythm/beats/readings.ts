/** Ways to read the onsets of a melody as music: a grid of sixteenths, a metre, and where its bars begin. */

import { chainScore, edgeScore, type Metre, metresFor } from '../bars/metre.js';
import type { BandBeats, BeatsKnown } from '../types.js';
import { FASTEST_BPM, GIVEN_BPM_SHARE, type Grid, gridsFor, SLOWEST_BPM } from './grids.js';
import { loosePositions } from './loose.js';
import { countAt, type Track } from './track.js';

/** A reading and how likely it is. */
export interface Reading {
  readonly grid: Grid;
  readonly metre: Metre;
  /** Place in its bar of the sixteenth counted 0. */
  readonly shift: number;
  /** The sixteenth that each onset is nearest to; never decreasing. */
  readonly positions: readonly number[];
  /**
   * Log probability of the places, and log odds of the distances from them against random ones: mean over the
   * notes.
   */
  readonly evidence: number;
  /** Log probability up to a constant, with the parts of it tempered as said at WEIGHTS. */
  readonly score: number;
}

/**
 * Tempo of the beat that is felt (dotted quarters in bars of six): log-normal, after the preferred tempo of
 * about 100 beats a minute of Parncutt (Music Perception 11(4), 1994) and van Noorden & Moelants (JNMR 28(1), 1999).
 */
const TEMPO = { bpm: 92, spread: 0.22 } as const;

/**
 * Mean of log2 of the interval from note to note in felt beats, and its spread from song to song: a little over half
 * a beat in the songs and folk tunes of the tables. Intervals outside the limits are silences and slips.
 */
const INTERVAL = { doublings: -0.9, spread: 0.7, leastBeats: 0.2, mostBeats: 4 } as const;

/**
 * Spread in seconds of onsets about the beat, of singers who keep time and of those who hardly do; and the
 * share that are anywhere.
 */
const SPREAD_SECONDS = { tight: 0.028, loose: 0.045 } as const;
const STRAY_SHARE = 0.03;

/** Readings of a tight singer that are tried for a loose one, and nats against those. */
const LOOSE = { readings: 8, cost: 0.7 } as const;

/**
 * Notes follow each other less freely than the chain of places assumes, so that its evidence is worth only so
 * many notes: that for metre and bar line within a grid, and that for one grid against another.
 */
const WEIGHTS = { metre: 12, grid: 4 } as const;

/** Nats that it is worth to a metre when all intervals come again one bar later, or two. */
const RETURN_WEIGHT = 10;

/** How much of its evidence the first and the last note bring for where the bars begin. */
const EDGE_WEIGHT = 0.3;

/** Spread in seconds of a given downbeat about the true one. */
const GIVEN_DOWNBEAT_SECONDS = 0.03;

/**
 * Readings of the onsets, likeliest first. Every pulse that the onsets keep to, and every beat of the band, is
 * taken for each note value that it may be; every metre that is not ruled out is laid on it at every shift.
 *
 * @param onsets seconds, in order, at least two, not all equal
 */
export function readingsOf(onsets: readonly number[], known: BeatsKnown, band: BandBeats | null): Reading[] {
  const metres = metresFor(known.beatsPerBar, known.beatUnit);
  const likeliest = (a: Reading, b: Reading) => b.score - a.score;
  const tight = gridsFor(onsets, known, band)
    .flatMap((grid) =>
      readGrid(grid, onsets, nearestPositions(grid, onsets), SPREAD_SECONDS.tight, metres, known),
    )
    .sort(likeliest);
  const loose = tight.slice(0, LOOSE.readings).flatMap(({ grid, metre, shift }) => {
    const counts = onsets.map((onset) => countAt(grid.track, onset));
    const positions = loosePositions(counts, shift, metre, grid.hz * SPREAD_SECONDS.loose);
    return readGrid(grid, onsets, positions, SPREAD_SECONDS.loose, metres, known);
  });
  return [...tight, ...loose].sort(likeliest);
}

/** The sixteenth nearest to each onset. */
function nearestPositions({ track }: Grid, onsets: readonly number[]): number[] {
  const positions: number[] = [];
  for (const onset of onsets) {
    positions.push(Math.max(Math.round(countAt(track, onset)), positions.at(-1) ?? Number.NEGATIVE_INFINITY));
  }
  return positions;
}

/** The likeliest metre and bar line on a grid; nothing where the tempo rules every metre out. */
function readGrid(
  grid: Grid,
  onsets: readonly number[],
  positions: readonly number[],
  spread: number,
  metres: readonly Metre[],
  known: BeatsKnown,
): Reading[] {
  const { track, hz } = grid;
  const loosened = spread === SPREAD_SECONDS.loose ? LOOSE.cost : 0;
  const fit = meanFit(grid, onsets, positions, spread);
  let best: Reading | null = null;
  let mostly = Number.NEGATIVE_INFINITY;
  const doublings = meanDoublings(onsets, hz);
  for (const metre of metres) {
    const prior = metre.prior + tempoScore(metre, hz, known) + intervalScore(metre, doublings);
    if (prior === Number.NEGATIVE_INFINITY) continue;
    const returns = returnShare(positions, metre.bar) + returnShare(positions, 2 * metre.bar);
    for (let shift = 0; shift < metre.bar; shift++) {
      const place = chainScore(positions, shift, metre) / onsets.length;
      const edges = edgeScore(positions, shift, metre);
      const given = downbeatScore(track, shift, metre, hz, known);
      const score = WEIGHTS.metre * place + RETURN_WEIGHT * returns + EDGE_WEIGHT * edges + prior + given;
      if (score <= mostly) continue;
      mostly = score;
      best = {
        grid,
        metre,
        shift,
        positions,
        evidence: place + fit,
        // Densities a second, so that grids of different rates compare.
        score: WEIGHTS.grid * (place + fit + Math.log(hz)) + prior + given + grid.bonus - loosened,
      };
    }
  }
  return best === null ? [] : [best];
}

function meanFit(
  { track, hz }: Grid,
  onsets: readonly number[],
  positions: readonly number[],
  spread: number,
): number {
  let sum = 0;
  for (let i = 0; i < onsets.length; i++) {
    sum += fitScore((countAt(track, onsets[i]!) - positions[i]!) / hz, hz, spread);
  }
  return sum / onsets.length;
}

/** Log odds of a distance in seconds from a sixteenth against one that is random. */
function fitScore(seconds: number, hz: number, spread: number): number {
  const normal = Math.exp(-((seconds / spread) ** 2) / 2) / (spread * Math.sqrt(2 * Math.PI));
  return Math.log(((1 - STRAY_SHARE) * normal) / hz + STRAY_SHARE);
}

/** Whether three written beats are felt as one. */
function isCompound(metre: Metre): boolean {
  return metre.beatUnit === 8 && metre.beatsPerBar % 3 === 0;
}

/** Log probability of the tempo; of no weight where it was given. */
function tempoScore(metre: Metre, hz: number, known: BeatsKnown): number {
  const written = (hz * 60) / (16 / metre.beatUnit);
  if (known.bpm !== null) {
    return Math.abs(written / known.bpm - 1) < GIVEN_BPM_SHARE ? 0 : Number.NEGATIVE_INFINITY;
  }
  const felt = isCompound(metre) ? written / 3 : written;
  if (felt < SLOWEST_BPM || felt > FASTEST_BPM) return Number.NEGATIVE_INFINITY;
  return -((Math.log(felt / TEMPO.bpm) / TEMPO.spread) ** 2) / 2;
}

/** Mean of log2 of the intervals in quarters. */
function meanDoublings(onsets: readonly number[], hz: number): number {
  let sum = 0;
  for (let i = 1; i < onsets.length; i++) {
    const quarters = ((onsets[i]! - onsets[i - 1]!) * hz) / 4;
    sum += Math.log2(Math.min(Math.max(quarters, INTERVAL.leastBeats), INTERVAL.mostBeats));
  }
  return sum / (onsets.length - 1);
}

/** Log probability of the mean interval. */
function intervalScore(metre: Metre, doublings: number): number {
  const felt = isCompound(metre) ? doublings - Math.log2(1.5) : doublings;
  return -(((felt - INTERVAL.doublings) / INTERVAL.spread) ** 2) / 2;
}

/** Share of the notes at which the interval to the next comes again so many sixteenths later. */
function returnShare(positions: readonly number[], later: number): number {
  let asked = 0;
  let returned = 0;
  let j = 0;
  for (let i = 0; i + 1 < positions.length; i++) {
    const target = positions[i]! + later;
    while (j < positions.length && positions[j]! < target) j++;
    if (j + 1 >= positions.length) break;
    asked++;
    if (positions[j] === target && positions[j + 1]! - target === positions[i + 1]! - positions[i]!)
      returned++;
  }
  return asked === 0 ? 0 : returned / asked;
}

/** Log probability of the given downbeat; 0 where none was given. */
function downbeatScore(track: Track, shift: number, metre: Metre, hz: number, known: BeatsKnown): number {
  if (known.firstDownbeatSeconds === null) return 0;
  const count = countAt(track, known.firstDownbeatSeconds) + shift;
  const seconds = (count - Math.round(count / metre.bar) * metre.bar) / hz;
  return -((seconds / GIVEN_DOWNBEAT_SECONDS) ** 2) / 2;
}
