/** Which notes of a melody a guide plays. */
import { UsageError } from '../../errors.js';
import type { Melody, MelodyNote } from '../../melody.js';
import { checkLineIsThere } from '../check-line.js';

/** Lines by number, from 1, or a part in seconds of the recording, or neither; never both. */
export interface Selection {
  readonly lines: { readonly first: number; readonly last: number } | null;
  readonly from: number | null;
  readonly to: number | null;
}

/**
 * The notes that were asked for, at least one.
 * @throws UsageError for lines that are not there, and a part without notes
 */
export function selectNotes({ notes, lines }: Melody, selection: Selection): readonly MelodyNote[] {
  if (selection.lines !== null) {
    const { first, last } = selection.lines;
    checkLineIsThere(last, lines.length);
    return notes.filter(({ line }) => line >= first && line <= last);
  }
  const from = selection.from ?? 0;
  const to = selection.to ?? Number.POSITIVE_INFINITY;
  const chosen = notes.filter(({ start }) => start >= from && start < to);
  if (chosen.length === 0) {
    const [firstStart, lastStart] = [notes[0]!.start, notes.at(-1)!.start];
    throw new UsageError(
      `no note begins in the part that --from and --to name: the notes begin from ${firstStart.toFixed(1)} s to ${lastStart.toFixed(1)} s.`,
    );
  }
  return chosen;
}

/** What is played at one go: each line for itself, or all of it. */
export function takesOf(notes: readonly MelodyNote[], byLine: boolean): (readonly MelodyNote[])[] {
  if (!byLine) return [notes];
  const numbers = [...new Set(notes.map(({ line }) => line))];
  return numbers.map((number) => notes.filter(({ line }) => line === number));
}
