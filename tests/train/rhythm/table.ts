/** Counts of how notes follow each other in the bar, as log probabilities. */

/** Onsets of a tune in sixteenths, 0 on a downbeat. */
export type Rhythm = readonly number[];

export interface Table {
  /** Log probability that the first note stands at each sixteenth of the bar. */
  readonly first: readonly number[];
  /** The same of the last note. */
  readonly last: readonly number[];
  /**
   * For each sixteenth of the bar, log probability that the next note comes 1, 2, … sixteenths later; the last
   * entry: more than two bars later.
   */
  readonly next: readonly (readonly number[])[];
}

/** Notes that the smoothing counts for at each place in the bar. */
const SMOOTHING_NOTES = 20;
/** Nats of one step of a coded table, which has 62 of them. */
const STEP_NATS = 0.15;
const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';

/**
 * Relative counts, smoothed at each place with what would follow were length and place independent
 * (interpolation with a lower-order model, Jelinek & Mercer 1980).
 */
export function tableOf(tunes: readonly Rhythm[], bar: number): Table {
  const longest = 2 * bar + 1;
  const counts = Array.from({ length: bar }, () => new Array<number>(longest).fill(0));
  const first = new Array<number>(bar).fill(0.5);
  const last = new Array<number>(bar).fill(0.5);
  const places = new Array<number>(bar).fill(0.5);
  const lengths = new Array<number>(longest).fill(0.5);
  const inBar = (onset: number) => ((onset % bar) + bar) % bar;
  for (const onsets of tunes) {
    if (onsets.length > 0) {
      first[inBar(onsets[0]!)]!++;
      last[inBar(onsets.at(-1)!)]!++;
    }
    for (let i = 1; i < onsets.length; i++) {
      const length = Math.min(onsets[i]! - onsets[i - 1]!, longest) - 1;
      counts[inBar(onsets[i - 1]!)]![length]!++;
      places[inBar(onsets[i]!)]!++;
      lengths[length]!++;
    }
  }
  const placeShares = shares(places);
  const lengthShares = shares(lengths);
  const next = counts.map((row, place) => {
    const independent = shares(
      lengthShares.map(
        (share, i) => share * (i < longest - 1 ? placeShares[(place + i + 1) % bar]! : 1 / bar),
      ),
    );
    return shares(row.map((count, i) => count + SMOOTHING_NOTES * independent[i]!)).map(Math.log);
  });
  return { first: shares(first).map(Math.log), last: shares(last).map(Math.log), next };
}

function shares(counts: readonly number[]): number[] {
  const total = counts.reduce((sum, count) => sum + count, 0);
  return counts.map((count) => count / total);
}

/**
 * One string a row, first notes and last notes before the others; letter number k stands for a log probability
 * of −0.15·k.
 */
export function encodeTable(table: Table): string[] {
  return [table.first, table.last, ...table.next].map((row) =>
    row.map((value) => ALPHABET[Math.min(Math.round(-value / STEP_NATS), ALPHABET.length - 1)]).join(''),
  );
}
