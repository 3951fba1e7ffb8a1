/** How likely a row of note positions is in each metre: note after note, by where in the bar they stand. */
import { FOLK_FOUR, FOLK_SIX, FOLK_THREE, FOLK_TWO, POP_FOUR } from './metre-tables.js';

/** A way to count bars, with the statistics of tunes that are written so. */
export interface Metre {
  readonly beatsPerBar: number;
  readonly beatUnit: 4 | 8;
  /** Sixteenth notes in a bar. */
  readonly bar: number;
  /** Log probability before anything is heard. */
  readonly prior: number;
  /** Log probability of the first note at each sixteenth of the bar. */
  readonly first: Float64Array;
  /** The same of the last note. */
  readonly last: Float64Array;
  /** At place·(longest + 2) + interval: log probability of the next note; interval 0 is the same place. */
  readonly next: Float64Array;
  /** Longest interval with an entry of its own, in sixteenths; longer ones share the entry after it. */
  readonly longest: number;
}

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
/** Nats of one letter (tests/train/rhythm/table.ts). */
const STEP_NATS = 0.15;
/** Log probability of a note at the place of the one before it: a slip of hearing, not music. */
const SAME_PLACE = -6;
/** Log probability, for every bar that a silence lasts beyond two. */
const SILENT_BAR = -0.5;

function metre(
  beatsPerBar: number,
  beatUnit: 4 | 8,
  probability: number,
  [firstRow, lastRow, ...rows]: readonly string[],
): Metre {
  const values = (row: string) => [...row].map((letter) => -STEP_NATS * ALPHABET.indexOf(letter));
  const longest = rows[0]!.length - 1;
  return {
    beatsPerBar,
    beatUnit,
    bar: rows.length,
    prior: Math.log(probability),
    first: Float64Array.from(values(firstRow!)),
    last: Float64Array.from(values(lastRow!)),
    next: Float64Array.from(rows.flatMap((row) => [SAME_PLACE, ...values(row)])),
    longest,
  };
}

/**
 * The metres that are listened for. Their probabilities follow the songs people sing: of the folk songs that
 * the tables count about half are in two or four, a quarter in three and a tenth in six; pop songs are nearly
 * all in four. Two is seldom told from four by ear, and four is what a player expects.
 */
const METRES: readonly Metre[] = [
  metre(4, 4, 0.3, POP_FOUR),
  metre(4, 4, 0.3, FOLK_FOUR),
  metre(3, 4, 0.25, FOLK_THREE),
  metre(6, 8, 0.1, FOLK_SIX),
  metre(2, 4, 0.02, FOLK_TWO),
];

/**
 * Weight of a place in a bar that no table counts: its first beat, a beat (or the first of three eighths),
 * half a beat, less.
 */
const PLAIN_WEIGHTS = { bar: 4, strong: 2.5, beat: 2, half: 1, rest: 0.15 } as const;
/**
 * Weight of an interval of one sixteenth, and of each doubling up to the two bars: long ones are rarer, in-
 * between ones rarer still.
 */
const PLAIN_INTERVALS = { power: 1, inBetween: 0.3 } as const;

/** A metre that the tables do not hold, such as 5/4 or 9/8: strong places and simple intervals are likelier. */
function plainMetre(beatsPerBar: number, beatUnit: 4 | 8): Metre {
  const sixteenths = beatUnit === 4 ? 4 : 2;
  const bar = beatsPerBar * sixteenths;
  const longest = 2 * bar;
  const places = Array.from({ length: bar }, (_, place) => {
    if (place === 0) return PLAIN_WEIGHTS.bar;
    if (beatUnit === 8 && place % 6 === 0) return PLAIN_WEIGHTS.strong;
    if (place % sixteenths === 0) return PLAIN_WEIGHTS.beat;
    return place % 2 === 0 ? PLAIN_WEIGHTS.half : PLAIN_WEIGHTS.rest;
  });
  const intervals = Array.from({ length: longest + 1 }, (_, i) => {
    const simple = Number.isInteger(Math.log2(i + 1)) || Number.isInteger(Math.log2((i + 1) / 3));
    return (simple ? 1 : PLAIN_INTERVALS.inBetween) / (i + 1) ** PLAIN_INTERVALS.power;
  });
  const total = places.reduce((sum, weight) => sum + weight, 0);
  const next = places.flatMap((_, place) => {
    const weights = intervals.map((weight, i) => weight * places[(place + i + 1) % bar]!);
    const sum = weights.reduce((a, b) => a + b, 0);
    return [SAME_PLACE, ...weights.map((weight) => Math.log(weight / sum))];
  });
  return {
    beatsPerBar,
    beatUnit,
    bar,
    prior: 0,
    first: Float64Array.from(places, (weight) => Math.log(weight / total)),
    last: Float64Array.from(places, (weight) => Math.log(weight / total)),
    next: Float64Array.from(next),
    longest,
  };
}

/** The metres that agree with what is known; at least one. */
export function metresFor(beatsPerBar: number | null, beatUnit: 4 | 8 | null): readonly Metre[] {
  const known = METRES.filter(
    (m) =>
      (beatsPerBar === null || m.beatsPerBar === beatsPerBar) &&
      (beatUnit === null || m.beatUnit === beatUnit),
  );
  return known.length > 0 ? known : [plainMetre(beatsPerBar ?? 4, beatUnit ?? 4)];
}

/** One metre with the statistics of all that agree with what is known, for when bars are settled. */
export function metreOf(beatsPerBar: number, beatUnit: 4 | 8): Metre {
  const [one, ...others] = metresFor(beatsPerBar, beatUnit);
  const mean = (pick: (m: Metre) => Float64Array) =>
    pick(one!).map((value, i) =>
      Math.log(
        others.reduce((sum, other) => sum + Math.exp(pick(other)[i]!), Math.exp(value)) / (others.length + 1),
      ),
    );
  return { ...one!, first: mean((m) => m.first), last: mean((m) => m.last), next: mean((m) => m.next) };
}

/**
 * Log probability that a note at `place` (sixteenths in the bar) is followed by one `interval` sixteenths
 * later.
 */
export function nextScore(metre: Metre, place: number, interval: number): number {
  const { bar, longest, next } = metre;
  if (interval <= longest) return next[place * (longest + 2) + interval]!;
  return next[place * (longest + 2) + longest + 1]! + SILENT_BAR * ((interval - longest) / bar);
}

/** Log probability that a tune begins and ends at these places in the bar. */
export function edgeScore(positions: readonly number[], shift: number, metre: Metre): number {
  return (
    metre.first[placeInBar(positions[0]! + shift, metre)]! +
    metre.last[placeInBar(positions.at(-1)! + shift, metre)]!
  );
}

/**
 * Log probability of notes at `positions` (sixteenths, never decreasing), given the first, when position 0 stands
 * `shift` sixteenths after a bar line: a chain from note to note (the metrical model of Nakamura, Yoshii &
 * Sagayama, IEEE/ACM TASLP 25(4), 2017, whose states are places in the bar).
 */
export function chainScore(positions: readonly number[], shift: number, metre: Metre): number {
  let place = placeInBar(positions[0]! + shift, metre);
  let score = 0;
  for (let i = 1; i < positions.length; i++) {
    const interval = positions[i]! - positions[i - 1]!;
    score += nextScore(metre, place, interval);
    place = (place + interval) % metre.bar;
  }
  return score;
}

function placeInBar(position: number, { bar }: Metre): number {
  return ((position % bar) + bar) % bar;
}
