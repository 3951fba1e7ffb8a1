/** Target and attempt → what became of every note, and what to mend first. Pure. */
import { dipsIn } from './dips.js';
import { type Found, findAlignment } from './find.js';
import { judge } from './judge.js';
import { mistakesOf } from './mistakes.js';
import type { CompareOptions, Comparison, LineResult, NoteVerdict, Side, SideNote } from './types.js';

/**
 * Both sides must have a note, in order of start. With a line, only that line of the target is wanted; its notes
 * keep their numbers in the whole target.
 * @throws RangeError for a line that the target does not have
 */
export function compare(target: Side, attempt: Side, { sameKey, line }: CompareOptions): Comparison {
  const first = line === null ? 0 : target.notes.findIndex((note) => note.line === line);
  const wanted = line === null ? target.notes : target.notes.filter((note) => note.line === line);
  if (wanted.length === 0) throw new RangeError(`the target has no line ${line}`);
  const dips = dipsIn(attempt);
  const found = findAlignment(wanted, attempt.notes, sameKey, dips);
  const notes = judge({ ...target, notes: wanted }, attempt, dips, found).map((note) => ({
    ...note,
    target: note.target === null ? null : note.target + first,
    tried: note.tried === null ? null : note.tried + first,
  }));
  const mistakes = mistakesOf(target, attempt, notes);
  const toMend = mistakes.find(({ kind }) => kind !== 'restart');
  return {
    transposition: found.transposition,
    tempoRatio: ratioOf(found),
    notes,
    score: scoreOf(notes, wanted.length),
    summary: { lines: linesOf(wanted, first, notes), mistakes, lookFirst: toMend?.notes[0] ?? null },
  };
}

function ratioOf({ pace }: Found): number | null {
  return pace === null || pace <= 0 ? null : 1 / pace;
}

/** What a note of the right key is worth that comes early, late, or is held short. */
const HALF = 0.5;

/**
 * Share of the notes that are right: a right key at the wrong time or held short counts half; an extra note counts
 * as one more that is wrong; tries that broke off and doubtful extra notes do not count.
 */
export function scoreOf(notes: readonly NoteVerdict[], wanted: number): number {
  let worth = 0;
  let extra = 0;
  for (const { verdict } of notes) {
    if (verdict === 'right') worth += 1;
    else if (verdict === 'early' || verdict === 'late' || verdict === 'short') worth += HALF;
    else if (verdict === 'extra') extra += 1;
  }
  return worth / (wanted + extra);
}

/** @param first index in the whole target of the first note that is wanted */
function linesOf(wanted: readonly SideNote[], first: number, notes: readonly NoteVerdict[]): LineResult[] {
  const right = new Set(notes.flatMap((note) => (note.verdict === 'right' ? [note.target] : [])));
  return [...new Set(wanted.map((note) => note.line))].map((line) => {
    const numbers = wanted.flatMap((note, i) => (note.line === line ? [first + i + 1] : []));
    const known = numbers.filter((number) => right.has(number)).length;
    return { line, notes: numbers.length, right: known, safe: known === numbers.length };
  });
}
