/** One line of the song as HTML, and the words of it that change with the key. */
import type { Melody, MelodyNote } from '../../melody.js';
import { isDoubtful } from '../doubtful.js';
import { rounded, short } from '../numbers.js';
import { otherNamer } from '../other-name.js';
import { handWords } from './hand-places.js';
import { clock, withSigns } from './names.js';

/** What is said of a line in one key. */
export interface LineWords {
  /** The notation in words, for those who do not see it. */
  readonly alternative: string;
  /** Where the hand sits. */
  readonly hand: string;
  /** List items, empty where nothing is in doubt. */
  readonly doubts: string;
}

/** The words of every line. Note names and numbers only: nothing of it comes from outside. */
export function lineWords(melody: Melody): LineWords[] {
  const nameOther = otherNamer(melody);
  return lineNumbers(melody).map((number) => {
    const notes = notesOf(melody, number);
    return {
      alternative: `Notes and fingers of line ${number}: ${notes.map(spoken).join(', ')}.`,
      hand: handWords(notes),
      doubts: notes.flatMap((note, i) => doubtItem(note, i + 1, nameOther)).join(''),
    };
  });
}

export function lineNumbers(melody: Pick<Melody, 'notes'>): number[] {
  return [...new Set(melody.notes.map((note) => note.line))];
}

export function notesOf(melody: Pick<Melody, 'notes'>, line: number): MelodyNote[] {
  return melody.notes.filter((note) => note.line === line);
}

function spoken(note: MelodyNote): string {
  const length = note.beats === null ? '' : ` ${short(note.beats, 2)} ${note.beats === 1 ? 'beat' : 'beats'}`;
  return `${withSigns(note.name)} finger ${note.finger}${length}${isDoubtful(note) ? ' (in doubt)' : ''}`;
}

function doubtItem(note: MelodyNote, number: number, nameOther: (midi: number) => string): string[] {
  if (!isDoubtful(note)) return [];
  const name = `<strong>${withSigns(note.name)}</strong>`;
  const sure = `${rounded(100 * note.confidence, 0)} % sure`;
  return [
    note.other === null
      ? `<li>Note ${number}, ${name}: check it by ear (${sure}).</li>`
      : `<li>Note ${number}, ${name}: may be <strong>${withSigns(nameOther(note.other))}</strong> (${sure}).</li>`,
  ];
}

/**
 * @param rows the notation, as SVG
 * @param heard the pitch curve of the line, as SVG; null where there is none
 */
export function lineHtml(
  melody: Melody,
  number: number,
  words: LineWords,
  rows: string,
  heard: string | null,
): string {
  const notes = notesOf(melody, number);
  const line = melody.lines[number - 1];
  const section = melody.sections.find(({ first }) => first === number);
  const like = line?.like ? ` <span class="like">like line ${line.like}</span>` : '';
  const letter = section
    ? `<span class="letter"><span class="unseen">Section </span>${section.letter}</span> `
    : '';
  const bars = [notes[0]!.bar, notes.at(-1)!.bar];
  const times = `${clock(notes[0]!.start)}–${clock(notes.at(-1)!.end)}`;
  const where = bars[0] === null || bars[1] === null ? times : `${barWords(bars[0]!, bars[1]!)}, ${times}`;
  return `<section class="line" id="line-${number}" aria-labelledby="name-${number}">
<div class="head"><h3 id="name-${number}">${letter}Line ${number}${like}</h3>
<p class="where">${where}</p>
<p class="tools"><button type="button" class="play" data-line="${number}" aria-label="Play line ${number}">Play</button>
<label><input type="checkbox" class="learnt" data-line="${number}"> learnt<span class="unseen">: line ${number}</span></label></p></div>
<div class="staff" role="img" aria-label="${words.alternative}">${rows}</div>
<p class="hand">${words.hand}</p>
<ul class="doubts"${words.doubts === '' ? ' hidden' : ''}>${words.doubts}</ul>
${heard === null ? '' : `<details class="heard"><summary>What was heard in line ${number}</summary>${heard}</details>`}</section>
`;
}

function barWords(from: number, to: number): string {
  return from === to ? `bar ${from}` : `bars ${from}–${to}`;
}
