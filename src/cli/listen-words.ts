/** What `listen` says of an event: an object for other programs, or a line for a person. */
import { stripVTControlCharacters } from 'node:util';
import type { Advice, TargetNote } from '../practice/listen/follow.js';
import type { LiveEvent } from '../practice/listen/live-notes.js';
import type { Paint } from '../write/types.js';

/** The line that is followed. */
export interface Following {
  readonly notes: readonly (TargetNote & { readonly line: number })[];
  readonly advice: Advice | null;
  /** The note that is waited for; null once the line is done. */
  readonly next: TargetNote | null;
}

export type NameOf = (midi: number) => string;

/** One JSON object, without the line's end. */
export function eventJson(event: LiveEvent, following: Following | null, nameOf: NameOf): string {
  const { event: kind, seconds, midi, cents, ...more } = event;
  const heard = { event: kind, seconds, midi, name: nameOf(midi), cents, ...more };
  if (following === null) return JSON.stringify(heard);
  const { advice, next } = following;
  return JSON.stringify({
    ...heard,
    next: next === null ? null : { ...next, name: nameOf(next.midi), line: lineOf(next, following) },
    ...(advice === null ? {} : { move: advice.move, keys: advice.keys, movedOn: advice.movedOn }),
  });
}

/** Text for one line of a terminal; where it would be wider than `columns`, without what matters least. */
export function eventLine(
  event: LiveEvent,
  following: Following | null,
  { nameOf, paint, columns }: LineLook,
): string {
  const name = paint.bold(nameOf(event.midi).padEnd(4));
  if (following === null) return `${name} ${centsWords(event.cents)}${heldWords(event, paint)}`;
  const waiting = waitingLine(following, nameOf, paint);
  const advice = adviceWords(following.advice, paint);
  const whole = `${waiting}   you: ${name} ${centsWords(event.cents)}${advice}`;
  return stripVTControlCharacters(whole).length < columns ? whole : `${waiting}  you: ${name}${advice}`;
}

export interface LineLook {
  readonly nameOf: NameOf;
  readonly paint: Paint;
  /** Width of the terminal. */
  readonly columns: number;
}

/** What is waited for: `note 3 of 12, line 1: G4`. */
export function waitingLine({ notes, next }: Following, nameOf: NameOf, paint: Paint): string {
  if (next === null) return paint.bold('all notes played');
  const place = notes.findIndex(({ number }) => number === next.number) + 1;
  const line = notes[place - 1]!.line;
  return `note ${place} of ${notes.length}, line ${line}: ${paint.bold(nameOf(next.midi))}`;
}

function lineOf(next: TargetNote, { notes }: Following): number {
  return notes.find(({ number }) => number === next.number)!.line;
}

/** A note within this many cents is called in tune: few hear less in singing (common practice). */
const IN_TUNE_CENTS = 10;

function centsWords(cents: number): string {
  const size = Math.abs(cents);
  const words = size <= IN_TUNE_CENTS ? 'in tune' : `${size} cents ${cents > 0 ? 'sharp' : 'flat'}`;
  return words.padEnd('50 cents sharp'.length);
}

function heldWords(event: LiveEvent, paint: Paint): string {
  switch (event.event) {
    case 'note':
      return '';
    case 'held':
      return `  ${event.how}, ${event.heldSeconds.toFixed(1)} s`;
    case 'end':
      return paint.dim(`  was held ${event.heldSeconds.toFixed(1)} s`);
  }
}

function adviceWords(advice: Advice | null, paint: Paint): string {
  if (advice === null) return '';
  if (advice.move === 'right') return `  ${paint.bold('right')}`;
  return `  ${paint.warn(`${advice.keys} key${advice.keys === 1 ? '' : 's'} ${advice.move}`)}`;
}
