/** Grids of sixteenths that a melody may have been sung to. */

import type { BandBeats, BeatsKnown } from '../types.js';
import { pulseTracks } from './pulse.js';
import { countAt, rescale, steadyTrack, type Track } from './track.js';

/** Slowest and fastest beat that is considered, in quarters or dotted quarters a minute. */
export const SLOWEST_BPM = 36;
export const FASTEST_BPM = 240;

/** How far a heard tempo may be from the given one, as a share. */
export const GIVEN_BPM_SHARE = 0.03;

/** Nats against a tempo that drifts, which can follow chance: one bend for every onset that is a little off. */
const DRIFT_BONUS = -1;

/** Sixteenths that a pulse or a beat of the band may stand for. */
const PULSE_SIXTEENTHS = [1, 2, 4] as const;
const BAND_SIXTEENTHS = [2, 4, 6, 8] as const;
/**
 * Nats for agreement with the band, when it is perfectly steady; and for taking its beat as the written one.
 */
const BAND = { agrees: 6, asItIs: 0.7 } as const;

/** Rates of sixteenths this near, as a share, are the same. */
const SAME_RATE = 0.0005;
/** Sixteenths over time, which onsets may have been sung to. */
export interface Grid {
  /** Counts sixteenths; whole where the voice is on them. */
  readonly track: Track;
  readonly kind: 'steady' | 'followed' | 'band';
  /** Sixteenths a second, mean. */
  readonly hz: number;
  /** Nats for or against it, before the notes are looked at. */
  readonly bonus: number;
  /** Sixteenths that the voice is behind the band; 0 without one. */
  readonly late: number;
}

/**
 * The grids that onsets may have been sung to: every pulse that they keep to, and every beat of the band, taken for
 * each note value that it may be. Where a tempo is given, those near it, or a steady one at exactly that tempo.
 *
 * @param onsets seconds, in order, at least two, not all equal
 */
export function gridsFor(onsets: readonly number[], known: BeatsKnown, band: BandBeats | null): Grid[] {
  const grids: Grid[] = [];
  const add = (track: Track, kind: Grid['kind'], bonus = 0, late = 0) => {
    const [from, to] = [onsets[0]!, onsets.at(-1)!];
    const hz = (countAt(track, to) - countAt(track, from)) / (to - from);
    if (hz < SLOWEST_BPM / 15 || hz > FASTEST_BPM / 10) return;
    const isSame = (grid: Grid) => grid.kind === 'steady' && Math.abs(grid.hz / hz - 1) < SAME_RATE;
    if (kind === 'steady' && grids.some(isSame)) return;
    grids.push({ track, kind, hz, bonus, late });
  };
  const { steady, followed } = pulseTracks(onsets);
  for (const sixteenths of PULSE_SIXTEENTHS) {
    for (const track of steady) add(rescale(track, sixteenths), 'steady');
    for (const track of followed) add(rescale(track, sixteenths), 'followed', DRIFT_BONUS);
  }
  if (band !== null && band.seconds.length >= 2) {
    const track: Track = { seconds: band.seconds, counts: band.seconds.map((_, i) => i) };
    for (const sixteenths of BAND_SIXTEENTHS) {
      const asItIs = sixteenths === 4 ? BAND.asItIs : 0;
      const scaled = rescale(track, sixteenths);
      const late = lateness(scaled, onsets);
      add(rescale(scaled, 1, -late), 'band', band.steadiness * (BAND.agrees + asItIs), late);
    }
  }
  return known.bpm === null ? grids : gridsAt(known.bpm, known.beatUnit, grids, onsets);
}

/**
 * Counts, between −0.5 and 0.5, that onsets are behind the whole counts: singers begin a little after a beat
 * that is struck.
 */
function lateness(track: Track, onsets: readonly number[]): number {
  let cos = 0;
  let sin = 0;
  for (const onset of onsets) {
    cos += Math.cos(2 * Math.PI * countAt(track, onset));
    sin += Math.sin(2 * Math.PI * countAt(track, onset));
  }
  return Math.atan2(sin, cos) / (2 * Math.PI);
}

/** The grids at a given tempo; a steady one at exactly that tempo where there is none. */
function gridsAt(
  bpm: number,
  beatUnit: 4 | 8 | null,
  grids: readonly Grid[],
  onsets: readonly number[],
): Grid[] {
  const rates = (beatUnit === null ? [4, 2] : [16 / beatUnit]).map((sixteenths) => (bpm / 60) * sixteenths);
  return rates.flatMap((hz) => {
    const near = grids.filter((grid) => Math.abs(grid.hz / hz - 1) < GIVEN_BPM_SHARE);
    if (near.length > 0) return near;
    const track = steadyTrack(hz, onsets[0]!, 0);
    const onVoice = rescale(track, 1, -lateness(track, onsets));
    return [{ track: onVoice, kind: 'steady' as const, hz, bonus: 0, late: 0 }];
  });
}
