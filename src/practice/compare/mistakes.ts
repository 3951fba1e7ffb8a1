/** Verdicts gathered into mistakes: what has one cause is one mistake. */
import type { Mistake, NoteVerdict, Side } from './types.js';
import { centsWord, distance, keyWord, notesWord, seconds } from './words.js';

/** Notes in a row off in the same direction by the same step that are one mistake. */
const ROW = 3;
/** Times that a key must be wrong in the same way, and the share of all times it is wanted, to be one mistake. */
const OFTEN = 2;
const OFTEN_SHARE = 0.6;

/** A wrong key: index in the verdicts, and what it answers. */
interface Wrong {
  readonly target: number;
  readonly off: number;
  /** As it sounded. */
  readonly cents: number;
}

/**
 * Worst first: by the kind (a wrong or missed note before an extra one, that before time, a line that was not even
 * tried near the end), then by how many notes it
 * takes, then in order. `target` holds all of its notes.
 */
export function mistakesOf(target: Side, attempt: Side, verdicts: readonly NoteVerdict[]): Mistake[] {
  const wrong = verdicts.flatMap((v) =>
    v.verdict === 'too high' || v.verdict === 'too low'
      ? [{ target: v.target!, off: v.semitones, cents: v.cents }]
      : [],
  );
  const rows = rowsOf(wrong, verdicts);
  const inRows = new Set(rows.flat().map((w) => w.target));
  const lone = wrong.filter((w) => !inRows.has(w.target));
  const often = oftenOf(target, lone, verdicts);
  const inOften = new Set(often.flat().map((w) => w.target));
  const mistakes = [
    ...rows.map((row) => rowMistake(target, row)),
    ...often.map((same) => oftenMistake(target, same)),
    ...lone.filter((w) => !inOften.has(w.target)).map((w) => loneMistake(target, w)),
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

function lineOf(target: Side, notes: readonly number[]): number | null {
  const lines = new Set(notes.map((number) => target.notes[number - 1]!.line));
  return lines.size === 1 ? [...lines][0]! : null;
}

/** Runs of wrong keys with no right one between, off the same way by the same step of the scale. */
function rowsOf(wrong: readonly Wrong[], verdicts: readonly NoteVerdict[]): Wrong[][] {
  const answered = verdicts.flatMap((v) => (v.target !== null && v.verdict !== 'missed' ? [v.target] : []));
  const place = new Map(answered.sort((a, b) => a - b).map((number, at) => [number, at]));
  const rows: Wrong[][] = [];
  for (const next of [...wrong].sort((a, b) => a.target - b.target)) {
    const row = rows.at(-1);
    const joins =
      row !== undefined &&
      place.get(next.target)! - place.get(row.at(-1)!.target)! === 1 &&
      [...row, next].every((w) => w.off * next.off > 0 && Math.abs(w.off - next.off) <= 1);
    if (joins) row.push(next);
    else rows.push([next]);
  }
  return rows.filter((row) => row.length >= ROW);
}

function rowMistake(target: Side, row: readonly Wrong[]): Mistake {
  const notes = row.map((w) => w.target);
  const offs = [...new Set(row.map((w) => w.off))];
  const [lowest, highest] = [Math.min(...offs), Math.max(...offs)];
  const how =
    lowest === highest
      ? distance(lowest)
      : `${STEPS[Math.abs(lowest) + Math.abs(highest)] ?? 'a few semitones'} too ${lowest > 0 ? 'high' : 'low'}`;
  return {
    kind: 'pitch',
    notes,
    line: lineOf(target, notes),
    words: `${notesWord(notes)} all lie ${how}: one mistake, and the rest follows`,
  };
}

/** Steps of a scale by the sum of their two sizes in semitones. */
const STEPS: Readonly<Record<number, string>> = { 3: 'a step', 7: 'a third', 5: 'two or three semitones' };

/** Wrong keys that come the same way at the same key of the piano, whatever the octave. */
function oftenOf(target: Side, wrong: readonly Wrong[], verdicts: readonly NoteVerdict[]): Wrong[][] {
  const keyOf = (number: number) => target.notes[number - 1]!.midi % 12;
  const groups = new Map<string, Wrong[]>();
  for (const w of wrong) {
    const name = `${keyOf(w.target)} ${w.off}`;
    groups.set(name, [...(groups.get(name) ?? []), w]);
  }
  return [...groups.values()].filter((same) => {
    const key = keyOf(same[0]!.target);
    const played = verdicts.filter(
      (v) => v.target !== null && v.verdict !== 'missed' && keyOf(v.target) === key,
    );
    return same.length >= OFTEN && same.length >= OFTEN_SHARE * played.length;
  });
}

function oftenMistake(target: Side, same: readonly Wrong[]): Mistake {
  const notes = same.map((w) => w.target);
  const name = keyWord(target.notes[notes[0]! - 1]!.name);
  return {
    kind: 'pitch',
    notes,
    line: lineOf(target, notes),
    words: `${name} is ${distance(same[0]!.off)} again and again (${notesWord(notes)})`,
  };
}

function loneMistake(target: Side, { target: number, off, cents }: Wrong): Mistake {
  const words = `note ${number} (${target.notes[number - 1]!.name}) is ${distance(off)}${centsWord(off, cents)}`;
  return { kind: 'pitch', notes: [number], line: lineOf(target, [number]), words };
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
