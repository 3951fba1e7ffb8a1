/** Where notes are sung, in words. */
import { clockTenths } from '../clock.js';
import type { PlacedNote } from './types.js';

/** Places that are named before the rest is only counted: enough to listen by (our choice). */
const PLACES_NAMED = 3;

/** `line 2 bar 5 (0:12.3)`, and without lines `note 3`. */
function placeOf(number: number, notes: readonly PlacedNote[]): string {
  const { line, bar, start } = notes[number - 1]!;
  if (line === null) return `note ${number}`;
  return `line ${line}${bar === null ? '' : ` bar ${bar}`}${start === null ? '' : ` (${clockTenths(start)})`}`;
}

/** The first places of notes given by number from 1, and how many more there are. */
export function placesOf(numbers: readonly number[], notes: readonly PlacedNote[]): string {
  const named = numbers.slice(0, PLACES_NAMED).map((number) => placeOf(number, notes));
  const more = numbers.length - named.length;
  return more === 0 ? named.join(', ') : `${named.join(', ')} and ${more} more`;
}

/** `lines 1–6, bars 1–24, from 0:00.5`: the stretch from one note to another, by number from 1. */
export function stretchOf(first: number, last: number, notes: readonly PlacedNote[]): string {
  const [from, to] = [notes[first - 1]!, notes[last - 1]!];
  const span = (word: string, a: number | null, b: number | null) =>
    a === null || b === null ? [] : [a === b ? `${word} ${a}` : `${word}s ${a}–${b}`];
  const parts = [
    ...span('line', from.line, to.line),
    ...span('bar', from.bar, to.bar),
    ...(from.start === null ? [] : [`from ${clockTenths(from.start)}`]),
  ];
  return parts.length === 0 ? `notes ${first}–${last}` : parts.join(', ');
}
