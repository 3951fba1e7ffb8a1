/** The same fingers where a line comes again. */
import type { Line } from '../rhythm/types.js';
import type { Stroke } from './types.js';

/** A note and the earlier one that it repeats, as indices. */
export interface Repeat {
  readonly note: number;
  readonly of: number;
  /** Whether on the same key or octaves apart, so that the hand meets the same keyboard. */
  readonly sameKeys: boolean;
}

/** Notes of lines that are like an earlier one, each with the note it stands for. */
export function repeatsOf(strokes: readonly Stroke[], lines: readonly Line[]): Repeat[] {
  return lines.flatMap((line) => {
    const earlier = line.like === null ? undefined : lines[line.like - 1];
    if (earlier === undefined) return [];
    const own = span(line);
    const model = span(earlier);
    const shifts = [...new Set([0, mostCommonShift(strokes, model, own)])];
    const matches = shifts.map((shift) => ({ shift, pairs: longestCommon(strokes, model, own, shift) }));
    const best = matches.reduce((a, b) => (b.pairs.length > a.pairs.length ? b : a));
    return best.pairs.map(([of, note]) => ({ note, of, sameKeys: best.shift % 12 === 0 }));
  });
}

function span({ first, last }: Line): number[] {
  return Array.from({ length: last - first + 1 }, (_, k) => first - 1 + k);
}

/** Semitones that most pairs of notes at the same place lie apart. */
function mostCommonShift(
  strokes: readonly Stroke[],
  model: readonly number[],
  own: readonly number[],
): number {
  const counts = new Map<number, number>();
  own.forEach((note, k) => {
    const of = model[k];
    if (of === undefined) return;
    const shift = strokes[note]!.midi - strokes[of]!.midi;
    counts.set(shift, (counts.get(shift) ?? 0) + 1);
  });
  return [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0])[0];
}

/** Pairs of the longest common subsequence of keys, the second line `shift` semitones over the first. */
function longestCommon(
  strokes: readonly Stroke[],
  model: readonly number[],
  own: readonly number[],
  shift: number,
): [number, number][] {
  const same = (a: number, b: number): boolean => strokes[model[a]!]!.midi + shift === strokes[own[b]!]!.midi;
  const lengths = Array.from({ length: model.length + 1 }, () => new Uint16Array(own.length + 1));
  for (let a = model.length - 1; a >= 0; a--) {
    for (let b = own.length - 1; b >= 0; b--) {
      lengths[a]![b] = same(a, b)
        ? lengths[a + 1]![b + 1]! + 1
        : Math.max(lengths[a + 1]![b]!, lengths[a]![b + 1]!);
    }
  }
  const pairs: [number, number][] = [];
  for (let a = 0, b = 0; a < model.length && b < own.length; ) {
    if (same(a, b)) pairs.push([model[a++]!, own[b++]!]);
    else if (lengths[a + 1]![b]! >= lengths[a]![b + 1]!) a++;
    else b++;
  }
  return pairs;
}
