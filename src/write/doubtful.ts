import type { Note } from '../notes/types.js';

/** A note less sure than this is marked, whether or not another key was likely (our choice). */
export const DOUBT = 0.7;

/** Whether a note is to be checked by ear. */
export function isDoubtful(note: Pick<Note, 'confidence' | 'other'>): boolean {
  return note.other !== null || note.confidence < DOUBT;
}
