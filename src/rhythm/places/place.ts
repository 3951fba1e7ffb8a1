/** Where notes stand in the written music. */
import { type Metre, metreOf, nextScore } from '../bars/metre.js';
import { countAt, rescale, type Track } from '../beats/track.js';
import type { Beats, Place } from '../types.js';
import { writtenLengths } from './place-lengths.js';

/**
 * Written places are counted in 24ths of a quarter note, so that sixteenths (6), triplets (8) and 32nds (3)
 * are whole.
 */
const QUARTER = 24;
const SIXTEENTH = 6;
const TRIPLET = 8;
const THIRTY_SECOND = 3;

/**
 * Costs in nats, on top of the metre's own, of places that are not on a sixteenth. The first triplet of a beat
 * must be worth two onsets that sit badly; a second one in the same beat is what one expects, and a sixteenth
 * beside one is hardly ever written. Anything finer is
 * for notes too fast to be told apart otherwise.
 */
const COSTS = { triplet: 7, nextTriplet: 1, mixed: 6, thirtySecond: 9, finer: 25, same: 1000 } as const;

/** Range in seconds in which the spread of onsets about their written places (standard deviation) is fitted. */
const SPREAD_SECONDS = { least: 0.01, most: 0.06 } as const;

/** Written places this far from an onset, in 24ths, are considered: half a quarter note. */
const REACH = 12;

/**
 * A voice this much in seconds behind or before the beats is moved onto them, but by less 24ths than a triplet
 * is from an eighth.
 */
const LEAST_LAG_SECONDS = 0.015;
const MOST_LAG = 3.9;
/** Share of onsets that must agree, as the length of their mean on the circle of an eighth note. */
const LAG_AGREEMENT = 0.4;

interface Candidate {
  readonly at: number;
  /** Nats for being off the sixteenths. */
  readonly cost: number;
  /** Seconds from the onset. */
  readonly off: number;
}

/**
 * Bar, beat and written length of each note. Starts are the likeliest row of places: each onset a normal spread
 * about its place, each place after the one before it as in tunes of the metre (a hidden Markov model after
 * Raphael, Artificial Intelligence 137, 2002, and Nakamura, Yoshii & Sagayama, IEEE/ACM TASLP 25(4), 2017). Order is kept, and two notes share a place only where the
 * notation ends. Bars and beats count from 1 at the first downbeat, a pickup stands in bar 0, notes earlier still
 * in bars −1, −2, … Without beats every field is null.
 *
 * @param notes in order of start
 */
export function placeNotes(
  notes: readonly { readonly start: number; readonly end: number }[],
  beats: Beats | null,
): Place[] {
  if (beats === null) return notes.map(() => ({ bar: null, beat: null, beats: null }));
  if (notes.length === 0) return [];
  const unit = QUARTER / (beats.beatUnit / 4);
  const counted: Track = {
    seconds: beats.seconds,
    counts: beats.seconds.map((_, i) => (i - beats.firstDownbeat) * unit),
  };
  const track = onTheVoice(notes, counted);
  const metre = metreOf(beats.beatsPerBar, beats.beatUnit);
  const starts = likeliestStarts(notes, track, metre);
  const lengths = writtenLengths(notes, starts, track, unit);
  const bar = beats.beatsPerBar * unit;
  return starts.map((start, i) => {
    const barIndex = Math.floor(start / bar);
    return {
      bar: barIndex + 1,
      beat: (start - barIndex * bar) / unit + 1,
      beats: lengths[i]! / unit,
    };
  });
}

/** The track moved by the lag of the voice, where most onsets agree about one. */
function onTheVoice(notes: readonly { readonly start: number }[], track: Track): Track {
  const eighth = 2 * SIXTEENTH;
  let cos = 0;
  let sin = 0;
  for (const { start } of notes) {
    const angle = (2 * Math.PI * countAt(track, start)) / eighth;
    cos += Math.cos(angle) / notes.length;
    sin += Math.sin(angle) / notes.length;
  }
  const lag = (Math.atan2(sin, cos) / (2 * Math.PI)) * eighth;
  const rate = (track.counts.at(-1)! - track.counts[0]!) / (track.seconds.at(-1)! - track.seconds[0]!);
  const isClear = Math.hypot(cos, sin) > LAG_AGREEMENT && Math.abs(lag / rate) > LEAST_LAG_SECONDS;
  return isClear && Math.abs(lag) < MOST_LAG ? rescale(track, 1, -lag) : track;
}

function likeliestStarts(notes: readonly { readonly start: number }[], track: Track, metre: Metre): number[] {
  const candidates = notes.map((note) => candidatesFor(note.start, track, metre));
  const squares = candidates
    .map((own) => Math.min(...own.filter((c) => c.cost === 0).map((c) => c.off ** 2)))
    .sort((a, b) => a - b);
  // The middle of the squares of a normal spread is 0.455 of their mean; strays and triplets do not move it.
  const fitted = Math.sqrt(squares[squares.length >> 1]! / 0.455);
  const spread = Math.min(Math.max(fitted, SPREAD_SECONDS.least), SPREAD_SECONDS.most);
  return bestPath(candidates, metre, spread).map((choice) => choice.at);
}

function candidatesFor(seconds: number, track: Track, metre: Metre): Candidate[] {
  const count = countAt(track, seconds);
  const rate = (countAt(track, seconds + 0.01) - countAt(track, seconds - 0.01)) / 0.02;
  const candidates: Candidate[] = [];
  for (let at = Math.ceil(count - REACH); at <= count + REACH; at++) {
    candidates.push({ at, cost: placeCost(at, metre), off: (at - count) / rate });
  }
  return candidates;
}

function placeCost(at: number, metre: Metre): number {
  if (at % SIXTEENTH === 0) return 0;
  if (at % TRIPLET === 0 && metre.beatUnit === 4) return COSTS.triplet;
  return at % THIRTY_SECOND === 0 ? COSTS.thirtySecond : COSTS.finer;
}

/** The candidates, one a note, with the least cost in all (Viterbi). */
function bestPath(candidates: readonly (readonly Candidate[])[], metre: Metre, spread: number): Candidate[] {
  let costs: number[] = [];
  const from: number[][] = [];
  for (let n = 0; n < candidates.length; n++) {
    const next: number[] = [];
    const back: number[] = [];
    for (const choice of candidates[n]!) {
      const local = choice.cost + (choice.off / spread) ** 2 / 2;
      if (n === 0) {
        next.push(local - metre.first[placeOf(choice.at, metre)]!);
        continue;
      }
      const came = cheapest(candidates[n - 1]!, costs, choice, metre);
      back.push(came.from);
      next.push(came.cost + local);
    }
    costs = next;
    from.push(back);
  }
  const path: Candidate[] = [];
  let k = costs.indexOf(Math.min(...costs));
  for (let n = candidates.length - 1; n >= 0; n--) {
    path.push(candidates[n]![k]!);
    k = from[n]![k] ?? 0;
  }
  return path.reverse();
}

/** Which candidate before one costs least, on the way to it, and what. */
function cheapest(
  before: readonly Candidate[],
  costs: readonly number[],
  choice: Candidate,
  metre: Metre,
): { from: number; cost: number } {
  let from = 0;
  let cost = Number.POSITIVE_INFINITY;
  for (let k = 0; k < before.length; k++) {
    const total = costs[k]! + stepCost(before[k]!, choice, metre);
    if (total < cost) {
      cost = total;
      from = k;
    }
  }
  return { from, cost };
}

function placeOf(at: number, metre: Metre): number {
  const sixteenth = Math.round(at / SIXTEENTH);
  return ((sixteenth % metre.bar) + metre.bar) % metre.bar;
}

function stepCost(before: Candidate, after: Candidate, metre: Metre): number {
  const interval = after.at - before.at;
  if (interval < 0) return Number.POSITIVE_INFINITY;
  if (interval === 0) return COSTS.same;
  const sixteenths = Math.max(Math.round(interval / SIXTEENTH), 1);
  const own = -nextScore(metre, placeOf(before.at, metre), sixteenths);
  const isSameBeat = Math.floor(before.at / QUARTER) === Math.floor(after.at / QUARTER);
  if (!isSameBeat || after.at % QUARTER === 0 || before.at % QUARTER === 0) return own;
  const triplets = Number(before.at % TRIPLET === 0) + Number(after.at % TRIPLET === 0);
  if (triplets === 1) return own + COSTS.mixed;
  return triplets === 2 ? own - COSTS.triplet + COSTS.nextTriplet : own;
}
