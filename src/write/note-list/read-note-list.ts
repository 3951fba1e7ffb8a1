import { InputError, NoMelodyError } from '../../errors.js';
import type { Note } from '../../notes/types.js';
import type { HeardAs } from '../../pitch/types.js';
import { ENGLISH, type Naming } from '../../theory/naming.js';
import { findOrderFault, trimOverlaps } from '../check-notes.js';
import type { ReadNotes } from '../types.js';
import { NOTE_LIST_VERSION } from './note-list.js';
import { checkedBeats, takeBeats } from './note-list-beats.js';
import { type Fact, isFactKey, readFact, readSource } from './note-list-facts.js';
import { shown, type Where } from './note-list-field.js';
import { readNames } from './note-list-names.js';
import { type NoteRow, readRow } from './note-list-row.js';

/**
 * Reads a note list as docs/note-list.md specifies it, written by `noteList`, by hand or by a spreadsheet.
 *
 * Takes off a byte order mark, goes through the lines (`#` lines before the first note may state facts,
 * later ones are comments, blank ones are skipped), reads each note strictly, then looks at neighbours:
 * starts must increase and notes must not overlap by more than a rounding error, which is trimmed. Bars,
 * beats and fingers must be well-formed and are not taken over: they are worked out anew. Fingers marked as settled stay.
 *
 * @param label what the text is called in error messages, such as the file's name
 * @throws InputError naming line and column, what stands there and what is expected
 * @throws NoMelodyError where the list holds no note
 */
export function readNoteList(text: string, label: string): ReadNotes {
  const facts = new Map<Fact, number>();
  const rows: NoteRow[] = [];
  const beats: { seconds: number; where: Where }[] = [];
  let heardAs: HeardAs | null = null;
  let naming: Naming = ENGLISH;
  text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .forEach((line, index) => {
      const where = { label, line: index + 1 };
      if (line.trim() === '') return;
      if (/^"?#/.test(line)) {
        if (rows.length > 0) return;
        heardAs = readSource(line) ?? heardAs;
        naming = readNames(line, where) ?? naming;
        takeFact(line, where, facts);
        takeBeats(line, where, beats);
        return;
      }
      rows.push(readRow(line, where, naming));
    });
  if (rows.length === 0) {
    throw new NoMelodyError(`${label} holds no notes: write one line a note under the # lines.`);
  }
  const tuningCents = facts.get('tuning-cents') ?? 0;
  const notes = rows.map((row) => toNote(row, tuningCents));
  checkNeighbours(rows, notes, label);
  const trimmed = trimOverlaps(notes);
  const unit = facts.get('beat-unit');
  return {
    notes: trimmed,
    tuningCents,
    seconds: Math.max(facts.get('seconds') ?? 0, trimmed.at(-1)!.end),
    bpm: facts.get('tempo-bpm') ?? null,
    beatsPerBar: facts.get('beats-per-bar') ?? null,
    beatUnit: unit === undefined ? null : unit === 8 ? 8 : 4,
    firstDownbeat: facts.get('first-downbeat') ?? null,
    beats: checkedBeats(beats),
    lineStarts: lineStarts(rows, label),
    fixedFingers: rows.map((row) => row.fixedFinger),
    heardAs,
    warnings: [],
  };
}

function takeFact(line: string, where: Where, facts: Map<Fact, number>): void {
  const words = line.slice(1).trim();
  const version = /^cantilena note list\s+(.*)$/.exec(words);
  if (version && version[1] !== String(NOTE_LIST_VERSION)) {
    throw new InputError(
      `${where.label}, line ${where.line}: this program reads version ${NOTE_LIST_VERSION} of the note list, and this one says version ${shown(version[1]!)}.`,
    );
  }
  const [key = ''] = words.split(/\s+/, 1);
  if (isFactKey(key)) facts.set(key, readFact(key, words.slice(key.length).trim(), where));
}

/** The note's name decides the key; the cents say how far from it the singer was. */
function toNote(row: NoteRow, tuningCents: number): Note {
  return {
    start: row.start,
    // Start and length are decimals: their sum is brought back to the nearest microsecond.
    end: Math.round((row.start + row.length) * 1e6) / 1e6,
    midi: row.midi,
    pitch: row.midi + (row.cents + tuningCents) / 100,
    confidence: row.sure,
    other: row.other,
  };
}

function checkNeighbours(rows: readonly NoteRow[], notes: readonly Note[], label: string): void {
  const fault = findOrderFault(notes);
  if (!fault) return;
  const before = rows[fault.index - 1]!;
  const row = rows[fault.index]!;
  if (fault.kind === 'order') {
    throw new InputError(
      `${label}, line ${row.lineNumber}, column 4 (start): ${row.start} is not later than the start ${before.start} in line ${before.lineNumber}; put the notes in order of start.`,
    );
  }
  throw new InputError(
    `${label}, lines ${before.lineNumber} and ${row.lineNumber}: the first note ends at ${notes[fault.index - 1]!.end} s, after the start ${row.start} s of the next; shorten it to ${Number((row.start - before.start).toFixed(3))} s or less.`,
  );
}

function lineStarts(rows: readonly NoteRow[], label: string): number[] | null {
  if (rows.every((row) => row.songLine === null)) return null;
  const starts: number[] = [];
  let current = 0;
  rows.forEach((row, index) => {
    if (row.songLine === null) {
      throw new InputError(
        `${label}, line ${row.lineNumber}, column 1 (line): "-" beside notes that have a number; number every note's line or none.`,
      );
    }
    if (row.songLine < current) {
      throw new InputError(
        `${label}, line ${row.lineNumber}, column 1 (line): ${row.songLine} comes after ${current}; line numbers must not go down.`,
      );
    }
    if (row.songLine > current) starts.push(index + 1);
    current = row.songLine;
  });
  return starts;
}
