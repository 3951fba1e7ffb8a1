/** What came of a batch: for programs, and as a table. */
import { clock } from '../write/clock.js';
import { byName } from './discover.js';
import type { SongDone, SongFailed } from './types.js';

export const SUMMARY_FORMAT = 'cantilena-batch';
export const SUMMARY_VERSION = 1;

/** A song that was heard, and its folder as seen from the summary. */
export interface SongRow extends SongDone {
  /** Steps from the folder of the summary to the song's, for links; `/` between. */
  readonly folder: string;
}

export interface Summary {
  readonly format: typeof SUMMARY_FORMAT;
  readonly version: typeof SUMMARY_VERSION;
  /** Easiest first. */
  readonly songs: readonly SongRow[];
  /** In order of name. */
  readonly failed: readonly SongFailed[];
}

/** Easiest first; equally easy ones in order of name, so that the same songs give the same bytes. */
export function summaryOf(songs: readonly SongRow[], failed: readonly SongFailed[]): Summary {
  return {
    format: SUMMARY_FORMAT,
    version: SUMMARY_VERSION,
    songs: [...songs].sort((a, b) => a.level - b.level || byName(a, b)),
    failed: [...failed].sort(byName),
  };
}

export function summaryJson(summary: Summary): string {
  return `${JSON.stringify(summary, null, 2)}\n`;
}

/** Why a song was not heard, with its name once. */
export function failureWords({ name, message }: SongFailed): string {
  return message.includes(name) ? message : `${name}: ${message}`;
}

export const SUMMARY_HEADINGS = ['grade', 'song', 'key', 'notes', 'lines', 'length'] as const;

/** A row a song, as the headings say. */
export function summaryRows({ songs }: Summary): string[][] {
  return songs.map(({ level, name, key, notes, lines, seconds }) => [
    level.toFixed(1),
    name,
    key,
    String(notes),
    String(lines),
    clock(seconds),
  ]);
}
