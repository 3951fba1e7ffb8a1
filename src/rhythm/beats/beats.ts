/** The beat of a melody: tempo, metre and first downbeat, from where its notes begin. */

import type { BandBeats, Beats, BeatsKnown } from '../types.js';
import { barShift } from './bar-shift.js';
import { givenBeats } from './given-beats.js';
import { type Reading, readingsOf } from './readings.js';
import { steadyBeats } from './steady-beats.js';
import { countAt, rescale, secondsAt, type Track } from './track.js';

/** What a bar is taken to be where tempo and downbeat are given and the metre is not. */
const USUAL_METRE = { beatsPerBar: 4, beatUnit: 4 } as const;

/** Fewer notes have no beat of their own. */
const LEAST_NOTES = 6;

/**
 * A first note with more of its bar left than this stands in bar 1, after a rest; one with less is a pickup.
 */
const LONGEST_PICKUP = 2 / 3;

/**
 * Evidence in nats a note that five of six rows of random onsets stay under (intervals log-normal or exponential,
 * 8 to 300 of them): `many` for long rows, and `few` over their number more, as the best reading of a few fits them
 * by chance. Of songs sung with 20 ms of jitter nearly all of 20 notes and more are above it, with 50 ms two thirds.
 */
const RANDOM_EVIDENCE = { many: -1.9, few: 10.5 } as const;

/** Steadiness from which a band has a beat, whatever the voice does. */
const STEADY_BAND = 0.5;

/** Seconds within which an onset pulls the fitted beat with full weight. */
const PULL_SECONDS = 0.05;

/**
 * The beats of a melody, or null where its notes keep to none. All that is known wins: beats that are given stay;
 * where tempo and downbeat are given they are simply counted out; otherwise the likeliest reading that agrees is
 * taken, its tempo
 * within 3 % of a given one, or exactly that where the notes keep to none so near. A steady reading is fitted to
 * the onsets; one that follows the singer stays as it is; one of the band stands at the times of the band. Time
 * grows with the number of notes and the length of the song: a thousand notes in twelve minutes take 0.2 s.
 *
 * @param notes in order of start
 * @param band beats heard in the accompaniment, or null
 */
export function findBeats(
  notes: readonly { readonly start: number; readonly end: number; readonly midi: number }[],
  known: BeatsKnown,
  band: BandBeats | null,
): Beats | null {
  if (notes.length === 0) return null;
  const first = notes[0]!.start;
  const end = Math.max(...notes.map((note) => note.end));
  if (known.beatSeconds) {
    return givenBeats(known.beatSeconds, metreKnown(known), known.firstDownbeatSeconds, first, end);
  }
  if (known.bpm !== null && known.firstDownbeatSeconds !== null) {
    return countedOut(known.bpm, known.firstDownbeatSeconds, known, first, end);
  }
  const onsets = notes.map((note) => note.start);
  if (onsets.length < LEAST_NOTES || onsets.at(-1)! <= first) {
    return known.bpm === null ? null : countedOut(known.bpm, first, known, first, end);
  }
  const likeliest = readingsOf(onsets, known, band)[0];
  if (likeliest === undefined) return null;
  const isToFind = known.firstDownbeatSeconds === null;
  const best = isToFind
    ? {
        ...likeliest,
        shift: barShift(
          likeliest,
          notes.map((note) => note.midi),
        ),
      }
    : likeliest;
  const { grid } = best;
  const isSure = known.bpm !== null || (grid.kind === 'band' && band!.steadiness >= STEADY_BAND);
  if (!isSure && !keepsTime(best, onsets.length)) return null;
  const track = grid.kind === 'steady' ? fitted(onsets, best) : rescale(grid.track, 1, grid.late);
  return barsOf(best, track, known, first, end);
}

function countedOut(bpm: number, downbeat: number, known: BeatsKnown, first: number, end: number): Beats {
  return steadyBeats({ bpm, ...metreKnown(known), firstDownbeatSeconds: downbeat }, end, first);
}

function metreKnown(known: BeatsKnown): { beatsPerBar: number; beatUnit: 4 | 8 } {
  const beatsPerBar = known.beatsPerBar ?? USUAL_METRE.beatsPerBar;
  return { beatsPerBar, beatUnit: known.beatUnit ?? (beatsPerBar === 6 ? 8 : USUAL_METRE.beatUnit) };
}

/** Whether the notes sit on the reading better than random ones would on the best reading of them. */
function keepsTime(reading: Reading, count: number): boolean {
  return reading.evidence > RANDOM_EVIDENCE.many + RANDOM_EVIDENCE.few / count;
}

/** Whole bars of beats on a track of sixteenths, from the bar of the first note to after the last. */
function barsOf(reading: Reading, track: Track, known: BeatsKnown, first: number, end: number): Beats {
  const { metre, shift } = reading;
  const counted = rescale(track, 1, shift);
  const position = reading.positions[0]! + shift;
  const place = ((position % metre.bar) + metre.bar) % metre.bar;
  const isPickup = place > 0 && (metre.bar - place) / metre.bar <= LONGEST_PICKUP + 1e-9;
  let downbeat = position - place + (isPickup ? metre.bar : 0);
  if (known.firstDownbeatSeconds !== null) {
    downbeat = Math.round(countAt(counted, known.firstDownbeatSeconds) / metre.bar) * metre.bar;
  }
  const start = Math.min(position - place, downbeat);
  const sixteenths = 16 / metre.beatUnit;
  const seconds: number[] = [];
  for (let count = start; ; count += sixteenths) {
    seconds.push(secondsAt(counted, count));
    const isBarLine = (count - start) % metre.bar === 0;
    if (isBarLine && count > downbeat && seconds.at(-1)! > Math.max(first, end)) break;
  }
  return {
    seconds,
    beatsPerBar: metre.beatsPerBar,
    beatUnit: metre.beatUnit,
    firstDownbeat: (downbeat - start) / sixteenths,
  };
}

/**
 * The steady track that lies nearest to the onsets: least squares, strays weighing less the farther off they
 * are.
 */
function fitted(onsets: readonly number[], { grid: { track }, positions }: Reading): Track {
  let origin = secondsAt(track, 0);
  let period = secondsAt(track, 1) - origin;
  for (let round = 0; round < 4; round++) {
    let [w, x, t, xx, xt] = [0, 0, 0, 0, 0];
    onsets.forEach((onset, i) => {
      const position = positions[i]!;
      const weight = 1 / (1 + ((onset - origin - period * position) / PULL_SECONDS) ** 2);
      w += weight;
      x += weight * position;
      t += weight * onset;
      xx += weight * position * position;
      xt += weight * position * onset;
    });
    const determinant = w * xx - x * x;
    if (determinant <= 0) break;
    period = (w * xt - x * t) / determinant;
    origin = (t - period * x) / w;
  }
  return { seconds: [origin, origin + period], counts: [0, 1] };
}
