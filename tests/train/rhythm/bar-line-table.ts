/** Counts of how rhythm and melody go about the bar, for src/rhythm/bars/bar-line.ts. */
import {
  ALPHABET,
  INTERVAL_CLASSES,
  intervalClass,
  MIDDLE_STEP,
  MOTIONS,
  motionClass,
  STEP_NATS,
} from '../../../src/rhythm/bars/bar-line.js';

/** A tune: onsets in sixteenths, 0 on a downbeat, and its pitches. */
export interface BarredTune {
  readonly onsets: readonly number[];
  readonly midi: readonly number[];
}

/** Notes that the smoothing of intervals and of motions counts for. */
const SMOOTHING = { place: 20, before: 30, motion: 20 } as const;

const zeros = (size: number) => new Array<number>(size).fill(0);

/** Relative counts as letters: first notes, last notes, then a row a place (bar-line.ts reads them). */
export function barLineTable(tunes: readonly BarredTune[], bar: number): string[] {
  const first = new Array<number>(bar).fill(0.5);
  const last = new Array<number>(bar).fill(0.5);
  const classes = new Array<number>(INTERVAL_CLASSES).fill(0.5);
  const places = Array.from({ length: bar }, () => zeros(INTERVAL_CLASSES));
  const after = Array.from({ length: bar }, () => classes.map(() => zeros(INTERVAL_CLASSES)));
  const motions = Array.from({ length: bar }, () => classes.map(() => zeros(MOTIONS)));
  const anywhere = classes.map(() => new Array<number>(MOTIONS).fill(0.5));
  const inBar = (onset: number) => ((onset % bar) + bar) % bar;
  for (const { onsets, midi } of tunes) {
    first[inBar(onsets[0]!)]!++;
    last[inBar(onsets.at(-1)!)]!++;
    for (let i = 1; i < onsets.length; i++) {
      const interval = intervalClass(onsets[i]! - onsets[i - 1]!);
      const motion = motionClass(midi[i]! - midi[i - 1]!);
      const from = inBar(onsets[i - 1]!);
      classes[interval]!++;
      places[from]![interval]!++;
      if (i > 1) after[from]![intervalClass(onsets[i - 1]! - onsets[i - 2]!)]![interval]!++;
      motions[inBar(onsets[i]!)]![interval]![motion]!++;
      anywhere[interval]![motion]!++;
    }
  }
  const overall = shares(classes);
  const usual = anywhere.map(shares);
  const rows = places.map((counts, place) => {
    const here = mixed(counts, overall, SMOOTHING.place);
    const intervals = [...after[place]!.map((row) => mixed(row, here, SMOOTHING.before)), here];
    const odds = motions[place]!.map((row, k) =>
      mixed(row, usual[k]!, SMOOTHING.motion).map((share, m) => Math.log(share / usual[k]![m]!)),
    );
    return intervals.map(negative).join('') + odds.map(signed).join('');
  });
  return [negative(shares(first)), negative(shares(last)), ...rows];
}

function shares(counts: readonly number[]): number[] {
  const total = counts.reduce((sum, count) => sum + count, 0);
  return counts.map((count) => count / total);
}

/** Counts smoothed with shares that are known better (Jelinek & Mercer 1980). */
function mixed(counts: readonly number[], known: readonly number[], notes: number): number[] {
  return shares(counts.map((count, i) => count + notes * known[i]!));
}

const letter = (step: number) => ALPHABET[Math.min(Math.max(Math.round(step), 0), ALPHABET.length - 1)]!;

function negative(probabilities: readonly number[]): string {
  return probabilities.map((share) => letter(-Math.log(share) / STEP_NATS)).join('');
}

function signed(nats: readonly number[]): string {
  return nats.map((value) => letter(value / STEP_NATS + MIDDLE_STEP)).join('');
}
