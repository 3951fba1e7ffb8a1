/** Where bars begin: how the notes of a melody, whose metre is known, suit a bar line at every place. */
import { BAR_LINE_TABLES } from './bar-line-tables.js';

/** How rhythm and melody go about the bar in tunes of one kind; every value in nats. */
export interface BarHabits {
  /** Log probability of the first note at each sixteenth of the bar. */
  readonly first: readonly number[];
  /** The same of the last note. */
  readonly last: readonly number[];
  /** At place·10 + (class before, or 9 where there is none), then class of the interval to the next note. */
  readonly intervals: readonly (readonly number[])[];
  /** At place·9 + class of the interval before it: log odds of each motion into a note there against anywhere. */
  readonly motions: readonly (readonly number[])[];
}

/** Intervals from note to note in sixteenths up to 1, 2, 3, 4, 6, 8, 12, 16 and longer are told apart. */
const INTERVAL_LIMITS = [1, 2, 3, 4, 6, 8, 12, 16] as const;
export const INTERVAL_CLASSES = INTERVAL_LIMITS.length + 1;
/** Melodic intervals in semitones up to which a motion is a repeat, a step and a skip; beyond is a leap. */
const MOTION_LIMITS = { repeat: 0, step: 2, skip: 4 } as const;
export const MOTIONS = 7;

/** Letters of a table, the nats of one step, and the step that stands for 0 where values have both signs. */
export const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
export const STEP_NATS = 0.1;
export const MIDDLE_STEP = 31;

/** What speaks for a bar line at one place, in nats. */
export interface BarLineParts {
  /** Log probability of the intervals and log odds of the motions, over the root of the number of notes. */
  readonly intervals: number;
  readonly motions: number;
  /** Log probability of the first and the last note. */
  readonly first: number;
  readonly last: number;
  /** Share of the bars that come again. */
  readonly returns: number;
}

/**
 * Notes follow each other less freely than the chain assumes, the more so the longer the song, so that the evidence of
 * n notes is divided by the root of n; the ends of a tune speak once. Fitted together by
 * tests/train/rhythm/bar-line-fit.ts on even songs and tunes, with tables counted on other even ones.
 */
const WEIGHTS: BarLineParts = { intervals: 1.46, motions: 1.29, first: 0.83, last: 0.4, returns: 2.33 };
const PARTS = Object.keys(WEIGHTS) as (keyof BarLineParts)[];

/** Class of an interval in sixteenths, 0 to 8. */
export function intervalClass(sixteenths: number): number {
  const index = INTERVAL_LIMITS.findIndex((limit) => sixteenths <= limit);
  return index < 0 ? INTERVAL_LIMITS.length : index;
}

/** Class of a melodic interval: a repeat, then steps, skips and leaps, each up before down. */
export function motionClass(semitones: number): number {
  const size = Math.abs(semitones);
  if (size <= MOTION_LIMITS.repeat) return 0;
  const pair = size <= MOTION_LIMITS.step ? 1 : size <= MOTION_LIMITS.skip ? 3 : 5;
  return semitones > 0 ? pair : pair + 1;
}

/** Reads a table (tests/train/rhythm/bar-line-table.ts writes it). */
export function habitsOf([first, last, ...rows]: readonly string[]): BarHabits {
  const stepsOf = (letters: string) => [...letters].map((letter) => ALPHABET.indexOf(letter));
  const negative = (letters: string) => stepsOf(letters).map((step) => -STEP_NATS * step);
  const signed = (letters: string) => stepsOf(letters).map((step) => STEP_NATS * (step - MIDDLE_STEP));
  const perPlace = (INTERVAL_CLASSES + 1) * INTERVAL_CLASSES;
  const cut = (letters: string, size: number) =>
    Array.from({ length: letters.length / size }, (_, i) => letters.slice(i * size, (i + 1) * size));
  return {
    first: negative(first!),
    last: negative(last!),
    intervals: rows.flatMap((row) => cut(row.slice(0, perPlace), INTERVAL_CLASSES).map(negative)),
    motions: rows.flatMap((row) => cut(row.slice(perPlace), MOTIONS).map(signed)),
  };
}

const HABITS = new Map(
  Object.entries(BAR_LINE_TABLES).map(([metre, tables]) => [metre, tables.map(habitsOf)]),
);

/**
 * Log odds, up to a constant, that the sixteenth counted 0 stands 0, 1, … sixteenths after a bar line; null for a metre
 * of which no tunes were counted.
 *
 * Method: a note's interval to the next depends on its place in the bar and on the interval before it, and the motion of
 * the melody into a note depends on its place and on the interval before it (leaps and long notes lead to strong
 * places, runs and repeats past them): a second-order chain on the metrical model of Nakamura, Yoshii & Sagayama
 * (IEEE/ACM TASLP 25(4), 2017). Where two kinds of tunes are counted for a metre, the one that suits better speaks.
 * Beside it counts how many bars come again as a whole (parallelism: Lerdahl & Jackendoff, A Generative Theory of Tonal
 * Music, 1983, metrical preference rule 1).
 *
 * @param positions sixteenths of the notes, never decreasing
 * @param midi their pitches, as many
 */
export function barLineScores(
  positions: readonly number[],
  midi: readonly number[],
  beatsPerBar: number,
  beatUnit: 4 | 8,
): Float64Array | null {
  const kinds = HABITS.get(`${beatsPerBar}/${beatUnit}`);
  if (kinds === undefined || positions.length < 2) return null;
  const bar = (16 / beatUnit) * beatsPerBar;
  const scores = new Float64Array(bar).fill(Number.NEGATIVE_INFINITY);
  for (const habits of kinds) {
    for (const [shift, parts] of barLineParts(positions, midi, bar, habits).entries()) {
      let score = 0;
      for (const part of PARTS) score += WEIGHTS[part] * parts[part];
      scores[shift] = Math.max(scores[shift]!, score);
    }
  }
  return scores;
}

/** What speaks for each place, as barLineScores has them, by one kind of tunes; at least two notes. */
export function barLineParts(
  positions: readonly number[],
  midi: readonly number[],
  bar: number,
  habits: BarHabits,
): BarLineParts[] {
  const intervals: number[] = [];
  const motions: number[] = [];
  for (let i = 1; i < positions.length; i++) {
    intervals.push(intervalClass(positions[i]! - positions[i - 1]!));
    motions.push(motionClass(midi[i]! - midi[i - 1]!));
  }
  const root = Math.sqrt(positions.length);
  const all: BarLineParts[] = [];
  for (let shift = 0; shift < bar; shift++) {
    let chain = 0;
    let motion = 0;
    for (const [i, interval] of intervals.entries()) {
      const before = i === 0 ? INTERVAL_CLASSES : intervals[i - 1]!;
      const here = placeIn(bar, positions[i]! + shift);
      const next = placeIn(bar, positions[i + 1]! + shift);
      chain += habits.intervals[here * (INTERVAL_CLASSES + 1) + before]![interval]!;
      motion += habits.motions[next * INTERVAL_CLASSES + interval]![motions[i]!]!;
    }
    all.push({
      intervals: chain / root,
      motions: motion / root,
      first: habits.first[placeIn(bar, positions[0]! + shift)]!,
      last: habits.last[placeIn(bar, positions.at(-1)! + shift)]!,
      returns: shareOfReturns(positions, midi, bar, shift),
    });
  }
  return all;
}

function placeIn(bar: number, sixteenth: number): number {
  return ((sixteenth % bar) + bar) % bar;
}

/** Share of the bars with notes that hold two or more and come again elsewhere, in any key. */
function shareOfReturns(
  positions: readonly number[],
  midi: readonly number[],
  bar: number,
  shift: number,
): number {
  const bars = new Map<number, string[]>();
  const bases = new Map<number, number>();
  for (const [i, position] of positions.entries()) {
    const number = Math.floor((position + shift) / bar);
    const base = bases.get(number) ?? midi[i]!;
    bases.set(number, base);
    const note = `${position + shift - number * bar}:${midi[i]! - base}`;
    const notes = bars.get(number) ?? [];
    bars.set(number, notes);
    notes.push(note);
  }
  const counts = new Map<string, number>();
  for (const notes of bars.values()) {
    if (notes.length > 1) counts.set(notes.join(' '), (counts.get(notes.join(' ')) ?? 0) + 1);
  }
  const returning = [...counts.values()].reduce((sum, count) => sum + (count > 1 ? count : 0), 0);
  return returning / bars.size;
}
