import { InputError } from '../../errors.js';
import type { Finger } from '../../hand/types.js';
import { type Naming, parseNoteIn } from '../../theory/naming.js';
import { COLUMNS } from './note-list.js';
import { parseNumber, type Where, wrongField } from './note-list-field.js';
import { NOTE_WANTED } from './note-list-names.js';

/** One line of a note list, read. */
export interface NoteRow {
  /** Line of the text it stands in, from 1. */
  readonly lineNumber: number;
  /** Line of the song from 1, null for `-`. */
  readonly songLine: number | null;
  /** Seconds. */
  readonly start: number;
  /** Seconds. */
  readonly length: number;
  readonly midi: number;
  /** Cents from the key after the recording's tuning. */
  readonly cents: number;
  /** Probability 0..1. */
  readonly sure: number;
  /** The finger where it is marked as settled (`3!`), else null. */
  readonly fixedFinger: Finger | null;
  /** The next likeliest key named in the remark, null where none is. */
  readonly other: number | null;
}

/** Finger and remark may be left out at the end of a line. */
const FEWEST_FIELDS = 8;
/** A day: longer starts are mistakes, in seconds. */
const LATEST_START = 86_400;

type Column = (typeof COLUMNS)[number];

/** Reads one tab-separated line, its notes named in a system. Throws InputError naming the column, what it wants and what it holds. */
export function readRow(text: string, where: Where, naming: Naming): NoteRow {
  const fields = splitFields(text, where);
  const field = (column: Column): string => unquoted((fields[COLUMNS.indexOf(column)] ?? '').trim());
  const wrong = (column: Column, wanted: string): InputError =>
    wrongField(where, `column ${COLUMNS.indexOf(column) + 1} (${column})`, field(column), wanted);
  const number = (column: Column, wanted: string, ok: (value: number) => boolean): number => {
    const value = parseNumber(field(column));
    if (value === null || !ok(value)) throw wrong(column, wanted);
    return value;
  };
  const orDash = (column: Column, wanted: string, ok: (value: number) => boolean): number | null =>
    field(column) === '-' ? null : number(column, wanted, ok);

  const songLine = orDash('line', 'a whole number from 1, or -', (n) => Number.isInteger(n) && n >= 1);
  orDash('bar', 'a whole number, or -', Number.isInteger);
  orDash('beat', 'a number from 1, or -', (n) => n >= 1);
  const start = number('start', 'seconds from 0, such as 12.345', (n) => n >= 0 && n <= LATEST_START);
  const length = number('length', 'seconds above 0, such as 0.250', (n) => n > 0 && n <= LATEST_START);
  const midi = parseNoteIn(field('note'), naming);
  if (midi === null) throw wrong('note', NOTE_WANTED[naming.system]);
  if (midi < 0 || midi > 127) throw wrong('note', 'a note from C-1 to G9');
  const cents = number('cents', 'cents from -2400 to 2400, such as -12', (n) => Math.abs(n) <= 2400);
  const sure = number('sure', 'a probability from 0 to 1, such as 0.85', (n) => n >= 0 && n <= 1);
  if (!/^([1-5]!?|-|)$/.test(field('finger'))) {
    throw wrong('finger', 'a finger from 1 to 5, with ! where it is settled, or -');
  }
  return {
    lineNumber: where.line,
    songLine,
    start,
    length,
    midi,
    cents,
    sure,
    fixedFinger: field('finger').endsWith('!') ? (Number(field('finger')[0]) as Finger) : null,
    other: readOther(field('remark'), midi, naming),
  };
}

/** A spreadsheet puts quotes round fields that hold a comma, and doubles the quotes inside. */
function unquoted(field: string): string {
  return /^".*"$/.test(field) ? field.slice(1, -1).replaceAll('""', '"').trim() : field;
}

function splitFields(text: string, where: Where): string[] {
  const fields = text.split('\t');
  // A spreadsheet may add empty fields after the last one.
  while (fields.length > COLUMNS.length && fields.at(-1)?.trim() === '') fields.pop();
  if (fields.length >= FEWEST_FIELDS && fields.length <= COLUMNS.length) return fields;
  throw new InputError(
    `${where.label}, line ${where.line}: expected ${COLUMNS.length} fields with tabs between them (${COLUMNS.join(' ')}), found ${fields.length}.`,
  );
}

/** A remark that starts with `or` and a note name holds the next likeliest key; any other is for people. */
function readOther(remark: string, midi: number, naming: Naming): number | null {
  const match = /^or\s+([^\s,;.]+)/i.exec(remark);
  const other = match ? parseNoteIn(match[1]!, naming) : null;
  return other !== null && other >= 0 && other <= 127 && other !== midi ? other : null;
}
