/** What is played in one pass through a line or the song, and when. Pure. */
import type { LineCount, Song } from '../page-data.js';

/** Seconds after the last note before a pass ends or begins again. */
const TAIL_SECONDS = 0.6;
/** Seconds between the word to play and the first sound. */
export const LEAD_SECONDS = 0.15;

export interface Pass {
  /** Numbers of the first and last note, from 1. */
  readonly first: number;
  readonly last: number;
  /** Song time in seconds at which the first note starts, and at which the pass is over. */
  readonly start: number;
  readonly end: number;
  /** Clicks before it: seconds of song time before the first note, and whether it begins a bar. */
  readonly clicks: readonly { readonly before: number; readonly isFirst: boolean }[];
}

/** @param line number from 1; 0 is the whole song */
export function passOf(song: Pick<Song, 'times' | 'lines' | 'counts'>, line: number, countIn: boolean): Pass {
  const from = song.lines[Math.max(line, 1) - 1]!;
  const last = (line === 0 ? song.lines.at(-1)! : from).last;
  const count = countIn ? (song.counts?.[Math.max(line, 1) - 1] ?? null) : null;
  return {
    first: from.first,
    last,
    start: song.times[from.first - 1]![0],
    end: song.times[last - 1]![1] + TAIL_SECONDS,
    clicks: count === null ? [] : clicksOf(count),
  };
}

function clicksOf({ clicks, beatSeconds, lastClickSeconds, beatsPerBar }: LineCount): Pass['clicks'] {
  return Array.from({ length: clicks }, (_, i) => ({
    before: lastClickSeconds + (clicks - 1 - i) * beatSeconds,
    isFirst: i % beatsPerBar === 0,
  }));
}

/** Number of the note that sounds at a song time, from 1; 0 in silence. */
export function noteAt(
  times: Song['times'],
  { first, last }: Pick<Pass, 'first' | 'last'>,
  seconds: number,
): number {
  for (let number = first; number <= last; number++) {
    const [start, end] = times[number - 1]!;
    if (seconds < start) return 0;
    if (seconds < end) return number;
  }
  return 0;
}
