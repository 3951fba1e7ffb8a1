/** One line of the song as HTML, and the words of it that change with the key. */
import type { Melody, MelodyNote } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { ENGLISH } from '../../theory/naming.js';
import { isDoubtful } from '../doubtful.js';
import { namingOf } from '../naming-of.js';
import { rounded, short } from '../numbers.js';
import { otherNamer } from '../other-name.js';
import { handWords } from './hand-words.js';
import { clock, shownIn } from './names.js';
import type { SongLine } from './page-data.js';

/** What is said of a line in one key. */
export interface LineWords {
  /** The notation in words, for those who do not see it. */
  readonly alternative: string;
  /** Where the hand sits. */
  readonly hand: string;
  /** List items, empty where no note is doubtful. */
  readonly doubts: string;
}

/** The words of every line. Note names and numbers only: nothing of it comes from outside. */
export function lineWords(melody: Melody, names: NameSystem): LineWords[] {
  const shown = shownIn(namingOf(melody, names));
  const nameOther = otherNamer(melody, ENGLISH);
  const nameOf = (midi: number) => shown(nameOther(midi));
  return songLines(melody).map((line, i) => {
    const said: string[] = [];
    let doubts = '';
    for (const [j, note] of melody.notes.slice(line.first - 1, line.last).entries()) {
      said.push(spoken(note, shown));
      if (isDoubtful(note)) doubts += doubtItem(note, j + 1, shown, nameOf);
    }
    return {
      alternative: `Notes and fingers of line ${i + 1}: ${said.join(', ')}.`,
      hand: handWords(melody, line, nameOf),
      doubts,
    };
  });
}

/** The lines that have notes, in order. */
export function songLines({ notes, lines }: Pick<Melody, 'notes' | 'lines'>): SongLine[] {
  return [...new Set(notes.map((note) => note.line))].map((number) => ({
    first: notes.findIndex(({ line }) => line === number) + 1,
    last: notes.findLastIndex(({ line }) => line === number) + 1,
    like: lines[number - 1]?.like ?? null,
  }));
}

function spoken(note: MelodyNote, shown: (name: string) => string): string {
  const length = note.beats === null ? '' : ` ${short(note.beats, 2)} ${note.beats === 1 ? 'beat' : 'beats'}`;
  return `${shown(note.name)} finger ${note.finger}${length}${isDoubtful(note) ? ' (doubtful)' : ''}`;
}

function doubtItem(
  note: MelodyNote,
  number: number,
  shown: (name: string) => string,
  nameOf: (midi: number) => string,
): string {
  const name = `<strong>${shown(note.name)}</strong>`;
  const sure = `${rounded(100 * note.confidence, 0)} % sure`;
  return note.other === null
    ? `<li>Note ${number}, ${name} (${sure}): check by ear.</li>`
    : `<li>Note ${number}, ${name} (${sure}): may be <strong>${nameOf(note.other)}</strong>.</li>`;
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
  const { first, last, like } = songLines(melody)[number - 1]!;
  const notes = melody.notes.slice(first - 1, last);
  const section = melody.sections.find((one) => one.first === number);
  const alike = like === null ? '' : ` <span class="like">like line ${like}</span>`;
  const letter = section
    ? `<span class="letter"><span class="unseen">Section </span>${section.letter}</span> `
    : '';
  const bars = [notes[0]!.bar, notes.at(-1)!.bar];
  const times = `${clock(notes[0]!.start)}–${clock(notes.at(-1)!.end)}`;
  const where = bars[0] === null || bars[1] === null ? times : `${barWords(bars[0]!, bars[1]!)}, ${times}`;
  return `<section class="line" id="line-${number}" aria-labelledby="name-${number}">
<div class="head"><h3 id="name-${number}">${letter}Line ${number}${alike}</h3>
<p class="where">${where}</p>
<p class="tools"><button type="button" class="play" data-line="${number}" aria-label="Play line ${number}">Play</button>
<label><input type="checkbox" class="learnt" data-line="${number}"> learnt<span class="unseen">: line ${number}</span></label></p></div>
<div class="staff" role="img" aria-label="${words.alternative}">${rows}</div>
<p class="hand">${words.hand}</p>
<ul class="doubts"${words.doubts === '' ? ' hidden' : ''}>${words.doubts}</ul>
${heard === null ? '' : `<details class="heard"><summary>What was heard in line ${number}</summary><div class="wide" role="group" tabindex="0" aria-label="Plot of line ${number}">${heard}</div></details>`}</section>
`;
}

function barWords(from: number, to: number): string {
  if (from < 1) return to < 1 ? 'pickup' : `pickup to bar ${to}`;
  return from === to ? `bar ${from}` : `bars ${from}–${to}`;
}
