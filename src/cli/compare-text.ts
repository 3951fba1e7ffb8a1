/** A comparison laid out for reading. */
import type { Comparison, NoteVerdict, Side } from '../practice/compare/types.js';
import { interval } from '../practice/compare/words.js';
import { CAUTION } from '../write/caution.js';
import { counted } from '../write/counted.js';
import { listed } from '../write/listed.js';
import { short } from '../write/numbers.js';
import { wrap } from '../write/screen/wrap.js';
import type { Paint } from '../write/types.js';

/** Spaces before the notes of a line, and between two of them. */
const INDENT = 2;
const GAP = 2;
/** Most mistakes that are told one by one. */
const MOST_MISTAKES = 8;
/** Cents from which a sung note sounds off (Larrouy-Maestri 2018, abstract: 25 in any melody). */
const SOUNDS_OFF = 25;

/** What the marks mean, in the order in which they are explained. */
const MARKS: readonly (readonly [mark: string, means: string])[] = [
  ['^', 'so many semitones too high'],
  ['v', 'so many semitones too low'],
  ['<', 'early'],
  ['>', 'late'],
  ["'", 'held short'],
  ['( )', 'missed'],
  ['+', 'extra'],
  ['?', 'probably right'],
];

interface Cell {
  readonly text: string;
  readonly isRight: boolean;
  /** The mark that is to be explained, null where there is none. */
  readonly mark: string | null;
}

/** No line is longer than `width` columns, if the names allow. Ends with a newline. */
export function comparisonText(
  comparison: Comparison,
  target: Side,
  attempt: Side,
  paint: Paint,
  { width }: { readonly width: number },
): string {
  const { lines, mistakes, lookFirst } = comparison.summary;
  const rowsOfLine = lines.map(({ line }) => cellsOf(comparison, target, attempt, line));
  const blocks = lines.map(({ line, notes, right, safe }, i) => [
    `${paint.bold(`line ${line}`)} · ${safe ? 'safe' : `${right} of ${notes} right`}`,
    ...rows(rowsOfLine[i]!, paint, width),
  ]);
  const used = new Set(rowsOfLine.flat().map(({ mark }) => mark));
  const marks = MARKS.filter(([mark]) => used.has(mark)).map(([mark, means]) => `${mark} ${means}`);
  const told = mistakes.slice(0, MOST_MISTAKES).map(({ words }) => `${words}.`);
  const more = mistakes.length - told.length;
  if (more > 0) told.push(`And ${more} more: --json lists all.`);
  const parts = [
    head(
      comparison,
      lines.reduce((sum, { notes }) => sum + notes, 0),
    ).flatMap((text) => wrap(text, width, '', '')),
    ...blocks,
    marks.length === 0 ? [] : wrap(marks.join(' · '), width, '', '').map((text) => paint.dim(text)),
    [
      ...(lookFirst === null ? [] : [paint.bold(`look first at note ${lookFirst}`)]),
      ...told.flatMap((text) => wrap(text, width, '  ', '    ')),
    ],
    intonation(comparison, width),
    mistakes.length === 0
      ? []
      : wrap(`Slowly, a line at a time. ${CAUTION}`, width, '', '').map((text) => paint.dim(text)),
  ];
  return `${parts
    .filter((part) => part.length > 0)
    .map((part) => part.join('\n'))
    .join('\n\n')}\n`;
}

function head({ transposition, tempoRatio, score, notes, summary }: Comparison, wanted: number): string[] {
  const right = notes.filter(({ verdict }) => verdict === 'right');
  const probable = right.filter((note) => note.probable).length;
  const doubt = probable === 0 ? '' : `, ${probable} of them probably`;
  const key =
    transposition === 0
      ? 'in the same key'
      : `${interval(transposition)} ${transposition > 0 ? 'higher' : 'lower'}`;
  const tempo = tempoRatio === null ? '' : `, ${tempoWords(tempoRatio)}`;
  const safe = summary.lines.filter((line) => line.safe).map(({ line }) => String(line));
  return [
    `${right.length} of ${counted(wanted, 'note')} right${doubt}; score ${score.toFixed(2)}`,
    `compared with the melody: ${key}${tempo}`,
    ...(safe.length === 0
      ? []
      : [
          `safe: ${safe.length === summary.lines.length ? 'every line' : `line${safe.length === 1 ? '' : 's'} ${listed(safe, 'and')}`}`,
        ]),
  ];
}

/** Tempos as near as this, a share, are one (our choice). */
const SAME_TEMPO = 0.03;

function tempoWords(ratio: number): string {
  if (Math.abs(ratio - 1) <= SAME_TEMPO) return 'at its tempo';
  return `${short(ratio, 2)} times as fast`;
}

/** The notes of one line of the target in order, each extra note after the note before it. */
function cellsOf({ notes }: Comparison, target: Side, attempt: Side, line: number): Cell[] {
  const extras = new Map<number, NoteVerdict[]>();
  let before = 0;
  for (const note of notes) {
    if (note.verdict === 'extra') extras.set(before, [...(extras.get(before) ?? []), note]);
    if (note.target !== null && note.verdict !== 'missed') before = note.target;
  }
  const wanted = notes
    .filter((note) => note.target !== null && target.notes[note.target - 1]!.line === line)
    .sort((a, b) => a.target! - b.target!);
  const extraCells = (number: number) =>
    (extras.get(number) ?? []).map(
      (note): Cell => ({ text: `+${attempt.notes[note.attempt! - 1]!.name}`, isRight: false, mark: '+' }),
    );
  const isFirst = wanted[0] !== undefined && notes.find((note) => note.target !== null) === wanted[0];
  return [
    ...(isFirst ? extraCells(0) : []),
    ...wanted.flatMap((note) => [
      cellOf(note, target.notes[note.target! - 1]!.name),
      ...extraCells(note.target!),
    ]),
  ];
}

function cellOf({ verdict, semitones, probable }: NoteVerdict, name: string): Cell {
  const wrong = (text: string, mark: string): Cell => ({ text, mark, isRight: false });
  switch (verdict) {
    case 'too high':
      return wrong(`${name}^${semitones}`, '^');
    case 'too low':
      return wrong(`${name}v${-semitones}`, 'v');
    case 'early':
      return wrong(`${name}<`, '<');
    case 'late':
      return wrong(`${name}>`, '>');
    case 'short':
      return wrong(`${name}'`, "'");
    case 'missed':
      return wrong(`(${name})`, '( )');
    default:
      return { text: probable ? `${name}?` : name, mark: probable ? '?' : null, isRight: true };
  }
}

function rows(cells: readonly Cell[], paint: Paint, width: number): string[] {
  const cellWidth = Math.max(...cells.map(({ text }) => text.length)) + GAP;
  const perRow = Math.max(1, Math.floor((width - INDENT + GAP) / cellWidth));
  return Array.from({ length: Math.ceil(cells.length / perRow) }, (_, row) => {
    const shown = cells.slice(row * perRow, (row + 1) * perRow).map(({ text, isRight }, at, all) => {
      const pad = at === all.length - 1 ? '' : ' '.repeat(cellWidth - text.length);
      return `${isRight ? text : paint.warn(text)}${pad}`;
    });
    return `${' '.repeat(INDENT)}${shown.join('')}`;
  });
}

/** Right keys that were sung far from their middle. */
function intonation({ notes }: Comparison, width: number): string[] {
  const off = notes
    .filter(
      ({ verdict, sung, probable }) => verdict === 'right' && !probable && Math.abs(sung ?? 0) > SOUNDS_OFF,
    )
    .map(
      ({ target, sung }) =>
        `${target} (${Math.abs(Math.round(sung!))} cents ${sung! > 0 ? 'sharp' : 'flat'})`,
    );
  return off.length === 0
    ? []
    : wrap(`the right note, but not in tune: ${listed(off, 'and')}`, width, '', '  ');
}
