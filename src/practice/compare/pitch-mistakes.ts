/** Wrong keys gathered into mistakes. */
import type { Mistake, NoteVerdict, Side } from './types.js';
import { centsWord, distance, keyWord, notesWord } from './words.js';

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

/** `target` holds all of its notes. A wrong key is in one mistake: a row, failing that one that comes often. */
export function pitchMistakes(target: Side, verdicts: readonly NoteVerdict[]): Mistake[] {
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
  return [
    ...rows.map((row) => rowMistake(target, row)),
    ...often.map((same) => oftenMistake(target, same)),
    ...lone.filter((w) => !inOften.has(w.target)).map((w) => loneMistake(target, w)),
  ];
}

/** The line that all of these notes are in, or null. */
export function lineOf(target: Side, notes: readonly number[]): number | null {
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
