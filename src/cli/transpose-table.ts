/** What several keys came to: a table, or JSON. */
import { basename } from 'node:path';
import type { Melody } from '../melody.js';
import { keySignature } from '../theory/key-signature.js';
import type { Move } from '../theory/moves.js';
import { signatureWords } from '../theory/signature-words.js';
import { table } from './table.js';

export interface MovedFiles {
  readonly move: Move;
  readonly melody: Melody;
  readonly files: readonly string[];
}

const HEADINGS = ['key', 'signature', 'semitones', 'lowest', 'highest', 'note list'] as const;
/** The same for reading: short enough that a row fits 60 columns. */
const SHORT_HEADINGS = ['key', 'signature', 'moved', 'from', 'to', 'note list'] as const;

/** The lowest and the highest note. */
function ends({ notes }: Melody) {
  const rising = [...notes].sort((a, b) => a.midi - b.midi);
  return { lowest: rising[0]!.name, highest: rising.at(-1)!.name };
}

const LISTS = HEADINGS.indexOf('note list');

/** @param width columns of the terminal; null for other programs, which get the whole path of each list */
export function moveTable(moved: readonly MovedFiles[], width: number | null): string {
  const rows = moved.map(({ move: { key, semitones }, melody, files }) => {
    const { lowest, highest } = ends(melody);
    const list = files.find((file) => file.endsWith('.notes')) ?? '';
    const signed = semitones > 0 ? `+${semitones}` : String(semitones);
    const signature = width !== null && keySignature(key) === 0 ? 'none' : signatureWords(key);
    const shown = width === null ? list : basename(list);
    return [`${key.tonic} ${key.mode}`, signature, signed, lowest, highest, shown];
  });
  return table(width === null ? HEADINGS : SHORT_HEADINGS, rows, { width, names: LISTS });
}

export function movesJson(moved: readonly MovedFiles[]): string {
  const keys = moved.map(({ move: { key, semitones }, melody, files }) => ({
    ...key,
    fifths: keySignature(key),
    semitones,
    ...ends(melody),
    files,
  }));
  return `${JSON.stringify({ keys }, null, 2)}\n`;
}
