import type { Melody, MelodyNote } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { type Naming, nameIn } from '../../theory/naming.js';
import { isDoubtful } from '../doubtful.js';
import { namingOf } from '../naming-of.js';
import { rounded } from '../numbers.js';
import { otherNamer } from '../other-name.js';
import type { Paint } from '../types.js';
import { caution, facts, gradeLines, scaleLines } from './screen-facts.js';
import { heading } from './screen-heading.js';
import { wrap } from './wrap.js';

/** Spaces before the contents of a block, and between two notes. */
const INDENT = 2;
const GAP = 2;

/**
 * The melody laid out for reading on a terminal: a block for each line of the song with the fingers over the
 * note names and doubtful notes marked and explained, then tempo and tuning, the scales, the grade, and a word about
 * practising. No line is longer than `options.width` columns. Ends with a newline.
 *
 * @param paint how bold, dim and warning words are written; plain text where colours are not wanted
 */
export function screenLayout(
  melody: Melody,
  paint: Paint,
  options: { readonly width: number; readonly names?: NameSystem } = { width: 80 },
): string {
  const system = options.names ?? 'english';
  const naming = namingOf(melody, system);
  const nameOther = otherNamer(melody, naming);
  const numbers = [...new Set(melody.notes.map((note) => note.line))];
  const moves = new Set(melody.hand?.slice(1).map(({ first }) => first));
  const blocks = numbers.map((number) => {
    const notes = melody.notes
      .map((note, i) => ({ ...note, name: nameIn(note.name, naming), moves: moves.has(i + 1) }))
      .filter((note) => note.line === number);
    return [
      ...heading(melody, number, notes, paint, options.width),
      ...rows(notes, paint, options.width),
      ...doubts(notes, nameOther, paint, options.width),
    ];
  });
  const below = [
    facts(melody),
    scaleLines(melody, paint, options.width, system),
    gradeLines(melody, options.width),
    moves.size === 0 ? [] : [paint.dim('> before a finger: the hand moves')],
    caution(options.width).map((text) => paint.dim(text)),
  ];
  const parts = [legend(naming).map((text) => paint.dim(text)), ...blocks, ...below].filter(
    (part) => part.length > 0,
  );
  return `${parts.map((part) => part.join('\n')).join('\n\n')}\n`;
}

/** Degrees are numbers like the fingers over them. */
function legend(naming: Naming): string[] {
  if (naming.system !== 'degrees') return [];
  const { tonic, octave } = naming.home;
  return [`fingers, and under them degrees: 1 is ${tonic}${octave}`];
}

/** A note, and whether the hand moves for it. */
type FingeredNote = MelodyNote & { readonly moves: boolean };

/** Pairs of lines, fingers over names, as many notes in each pair as the width holds. */
function rows(notes: readonly FingeredNote[], paint: Paint, width: number): string[] {
  const cells = notes.map((note) => ({ note, text: isDoubtful(note) ? `${note.name}?` : note.name }));
  const cellWidth = Math.max(...cells.map((cell) => cell.text.length)) + GAP;
  const perRow = Math.max(1, Math.floor((width - INDENT + GAP) / cellWidth));
  const pad = (text: string, painted: string) => painted + ' '.repeat(cellWidth - text.length);
  const out: string[] = [];
  for (let at = 0; at < cells.length; at += perRow) {
    const row = cells.slice(at, at + perRow);
    const fingers = row.map(({ note }) => {
      const finger = `${note.moves ? '>' : ''}${note.finger}${note.fingerFixed ? '!' : ''}`;
      return pad(finger, paint.dim(finger));
    });
    const names = row.map(({ note, text }) => pad(text, isDoubtful(note) ? paint.warn(text) : text));
    for (const line of [fingers, names]) out.push(`${' '.repeat(INDENT)}${line.join('')}`.trimEnd());
  }
  return out;
}

/** A line for each marked note, in order: which note of the line it is, and what else it may be. */
function doubts(
  notes: readonly MelodyNote[],
  nameOther: (midi: number) => string,
  paint: Paint,
  width: number,
): string[] {
  return notes.flatMap((note, index) => {
    if (!isDoubtful(note)) return [];
    const advice = note.other === null ? 'check by ear' : `may be ${nameOther(note.other)}`;
    const words = `note ${index + 1}, ${note.name}? (${rounded(100 * note.confidence, 0)} % sure): ${advice}`;
    const indent = ' '.repeat(INDENT);
    return wrap(words, width, indent, `${indent}${indent}`).map((line) =>
      line.replace(`${note.name}?`, (name) => paint.warn(name)),
    );
  });
}
