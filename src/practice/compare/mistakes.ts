/** Verdicts gathered into mistakes: what has one cause is one mistake. */
import { lineOf, pitchMistakes } from './pitch-mistakes.js';
import type { Mistake, NoteVerdict, Side } from './types.js';
import { notesWord, seconds } from './words.js';

/**
 * Worst first: by the kind (a wrong or missed note before an extra one, that before time, a line that was not even
 * tried near the end), then by how many notes it takes, then in order. `target` holds all of its notes.
 */
export function mistakesOf(target: Side, attempt: Side, verdicts: readonly NoteVerdict[]): Mistake[] {
  const mistakes = [
    ...pitchMistakes(target, verdicts),
    ...missedMistakes(target, verdicts),
    ...playedMistakes(target, attempt, verdicts),
    ...timeMistakes(target, verdicts),
  ];
  return mistakes.sort(
    (a, b) => RANK[a.kind] - RANK[b.kind] || weight(b) - weight(a) || (a.notes[0] ?? 0) - (b.notes[0] ?? 0),
  );
}

const RANK: Readonly<Record<Mistake['kind'], number>> = {
  pitch: 0,
  missed: 0,
  extra: 1,
  time: 2,
  short: 3,
  unplayed: 4,
  restart: 5,
};

function weight({ notes }: Mistake): number {
  return notes.length;
}

/** Neighbours in a line that were missed are one mistake. */
function missedMistakes(target: Side, verdicts: readonly NoteVerdict[]): Mistake[] {
  const numbers = verdicts.flatMap((v) => (v.verdict === 'missed' ? [v.target!] : [])).sort((a, b) => a - b);
  const lineAt = (number: number) => target.notes[number - 1]!.line;
  return inARow(numbers, lineAt).map((notes) => {
    const line = lineAt(notes[0]!);
    const ofLine = target.notes.filter((note) => note.line === line).length;
    if (notes.length === ofLine && ofLine < target.notes.length) {
      return { kind: 'unplayed', notes, line, words: `line ${line} was not played` };
    }
    const name = notes.length === 1 ? ` (${target.notes[notes[0]! - 1]!.name}) was` : ' were';
    return { kind: 'missed', notes, line, words: `${notesWord(notes)}${name} missed` };
  });
}

function inARow(numbers: readonly number[], lineAt: (number: number) => number): number[][] {
  const rows: number[][] = [];
  for (const number of numbers) {
    const last = rows.at(-1)?.at(-1);
    if (last === number - 1 && lineAt(last) === lineAt(number)) rows.at(-1)!.push(number);
    else rows.push([number]);
  }
  return rows;
}

/** Extra notes in a row, and tries that broke off. */
function playedMistakes(target: Side, attempt: Side, verdicts: readonly NoteVerdict[]): Mistake[] {
  return runsOf(verdicts, ['extra', 'restart']).map(({ first, run }) => {
    const isPlayed = (v: NoteVerdict) => v.target !== null && v.verdict !== 'missed';
    const before = verdicts.slice(0, first).findLast(isPlayed)?.target ?? null;
    const after = verdicts.slice(first + run.length).find(isPlayed)?.target ?? null;
    if (run[0]!.verdict === 'restart') {
      const tried = run.flatMap((v) => v.tried ?? []);
      const notes = [...new Set(tried)].sort((a, b) => a - b);
      const words = `${notesWord(notes)} ${notes.length === 1 ? 'was' : 'were'} played again: the last time counts`;
      return { kind: 'restart', notes, line: lineOf(target, notes), words };
    }
    const near = before ?? after ?? 1;
    const names = run.map((v) => attempt.notes[v.attempt! - 1]!.name).join(', ');
    const what =
      run.length === 1 ? `an extra note (${names}) was` : `${run.length} extra notes (${names}) were`;
    const words = `${what} played ${before === null ? 'before' : 'after'} note ${near}`;
    return { kind: 'extra', notes: [near], line: lineOf(target, [near]), words };
  });
}

/** Runs of one of these verdicts, each with the place of its first. */
function runsOf(verdicts: readonly NoteVerdict[], wanted: readonly NoteVerdict['verdict'][]) {
  const runs: { first: number; run: NoteVerdict[] }[] = [];
  verdicts.forEach((v, at) => {
    if (!wanted.includes(v.verdict)) return;
    if (at > 0 && verdicts[at - 1]!.verdict === v.verdict) runs.at(-1)!.run.push(v);
    else runs.push({ first: at, run: [v] });
  });
  return runs;
}

function timeMistakes(target: Side, verdicts: readonly NoteVerdict[]): Mistake[] {
  return verdicts.flatMap((v): Mistake[] => {
    if (v.verdict !== 'early' && v.verdict !== 'late' && v.verdict !== 'short') return [];
    const notes = [v.target!];
    const what = `note ${v.target} (${target.notes[v.target! - 1]!.name})`;
    return [
      {
        kind: v.verdict === 'short' ? 'short' : 'time',
        notes,
        line: lineOf(target, notes),
        words:
          v.verdict === 'short'
            ? `${what} is let go too soon`
            : `${what} comes ${seconds(Math.abs(v.seconds))} ${v.verdict}`,
      },
    ];
  });
}
