/** Right-hand parts of printed editions with the printed fingers: DIR/fingering/right-hand.json. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FingerNote } from '../../../src/hand/types.js';

export const PARTS_FILE = 'fingering/right-hand.json';

/** One right-hand part. */
export interface Part {
  /** Book and piece; parts of the same piece share it. */
  readonly piece: string;
  /** Composer and book. */
  readonly book: string;
  readonly notes: readonly FingerNote[];
  /** The printed finger, 1..5, or null; one a note. */
  readonly printed: readonly (number | null)[];
}

/** A whole note in seconds at 100 quarter notes a minute: the file knows no tempo. */
const WHOLE_SECONDS = 2.4;

interface RawPart {
  readonly piece: string;
  readonly notes: readonly (readonly [number, number, number, number | null])[];
}

/** `ClementiOp42 L34` of all the parts of a lesson, `DiabelliA O149 op149-13` of both hands' parts of a duet. */
function pieceOf(name: string): string {
  const lesson = /^(ClementiOp42)__.*-L(\d+)/.exec(name);
  return lesson ? `${lesson[1]} ${lesson[2]}` : name;
}

function bookOf(name: string): string {
  return name.startsWith('Clementi') ? 'ClementiOp42' : name.split('__').slice(0, 2).join(' ');
}

/** Null where the file is not there. */
export function readParts(root: string): Part[] | null {
  const path = join(root, PARTS_FILE);
  if (!existsSync(path)) return null;
  const raw = JSON.parse(readFileSync(path, 'utf8')) as RawPart[];
  return raw.map(({ piece, notes }) => ({
    piece: pieceOf(piece),
    book: bookOf(piece),
    notes: notes.map(([start, length, midi]) => ({
      midi,
      start: start * WHOLE_SECONDS,
      end: (start + length) * WHOLE_SECONDS,
    })),
    printed: notes.map(([, , , finger]) => finger),
  }));
}

/** Numbers of the folds, 0..folds−1, one a part: pieces in order of name are dealt out, so that no piece is in two. */
export function foldsOf(parts: readonly Part[], folds: number): number[] {
  const pieces = [...new Set(parts.map((part) => part.piece))].sort();
  return parts.map((part) => pieces.indexOf(part.piece) % folds);
}

/** Fewest fingered notes in succession that are scored. */
const FEWEST_IN_RUN = 5;

/** Indices of the notes that are scored: those in runs of five and more fingered notes. */
export function scoredNotes(printed: readonly (number | null)[]): number[] {
  const scored: number[] = [];
  let run: number[] = [];
  const flush = () => {
    if (run.length >= FEWEST_IN_RUN) scored.push(...run);
    run = [];
  };
  printed.forEach((finger, i) => {
    if (finger === null) flush();
    else run.push(i);
  });
  flush();
  return scored;
}
