/**
 * Attempts with known mistakes, compared with their songs: what is found, and what is called a mistake that is none.
 * The costs and limits of src/practice/compare were chosen on half a, for exact notes and for the piano; half b is for
 * reporting.
 *
 * A wrong note is found where its size is right, too; a missed note where it, or its neighbour of the same key, is
 * called missed; an extra note where it is called extra; a moved note where it is called late or early. Restart:
 * notes of tries that broke off, called so. Line: lines a step off that are one mistake. False: right notes called
 * wrong or missed, and extra notes where there are none, per right note; time: right notes called late, early or short.
 */
import { seededRandom } from '../../../fixtures/maker/random.js';
import { type Attempt, attemptAt } from './attempts.js';
import { heardSide } from './heard.js';
import { type AttemptScore, type Counted, exactSide, scoreAttempt } from './score.js';
import { type Song, songsIn } from './songs.js';

/** Attempts at the songs of one half. */
const ATTEMPTS = 300;

/** The same attempts each time: song after song, with a seed a number. */
export function attemptsAt(songs: readonly Song[], half: 'a' | 'b', count: number): Attempt[] {
  const ofHalf = songs.filter((song) => song.half === half);
  return Array.from({ length: count }, (_, n) => attemptAt(ofHalf[n % ofHalf.length]!, seededRandom(n + 1)));
}

/** The table; null where there are no songs. Hearing the piano takes some minutes. */
export async function compareReport(root: string): Promise<string | null> {
  const songs = songsIn(root);
  if (!['a', 'b'].every((half) => songs.some((song) => song.half === half))) return null;
  const exact = (half: 'a' | 'b') =>
    attemptsAt(songs, half, ATTEMPTS).map((attempt) => scoreAttempt(attempt, exactSide(attempt)));
  const heard: AttemptScore[] = [];
  for (const [n, attempt] of attemptsAt(songs, 'b', ATTEMPTS).entries()) {
    heard.push(scoreAttempt(attempt, await heardSide(attempt, n)));
  }
  const columns = [
    ['compare', ...ROWS.map(([name]) => name)],
    ['notes, half a', ...cells(exact('a'))],
    ['notes, half b', ...cells(exact('b'))],
    ['piano heard, half b', ...cells(heard)],
  ];
  return columns[0]!
    .map((_, row) =>
      columns.map((column, i) => (i === 0 ? column[row]!.padEnd(24) : column[row]!.padStart(22))).join(''),
    )
    .join('\n');
}

function sum(counts: readonly Counted[]): Counted {
  return {
    found: counts.reduce((total, { found }) => total + found, 0),
    of: counts.reduce((total, { of }) => total + of, 0),
  };
}

type Row = readonly [name: string, of: (scores: readonly AttemptScore[]) => Counted];

const yes = (is: (score: AttemptScore) => boolean) => (scores: readonly AttemptScore[]) => ({
  found: scores.filter(is).length,
  of: scores.length,
});
const all = (of: (score: AttemptScore) => Counted) => (scores: readonly AttemptScore[]) =>
  sum(scores.map(of));
const those = (clean: boolean, of: (score: AttemptScore) => Counted) => (scores: readonly AttemptScore[]) =>
  sum(scores.filter((score) => score.clean === clean).map(of));

const ROWS: readonly Row[] = [
  ['key', yes((s) => s.key)],
  ['tempo within 5 %', yes((s) => s.tempo)],
  ['wrong', all((s) => s.wrong)],
  ['missed', all((s) => s.missed)],
  ['extra', all((s) => s.extra)],
  ['these three', all((s) => sum([s.wrong, s.missed, s.extra]))],
  ['moved', all((s) => s.moved)],
  ['restart', all((s) => s.restart)],
  ['line', all((s) => s.line)],
  ['false, clean', those(true, (s) => s.falseKeys)],
  ['false, with mistakes', those(false, (s) => s.falseKeys)],
  ['time, clean', those(true, (s) => s.falseTimes)],
  ['time, with mistakes', those(false, (s) => s.falseTimes)],
];

export function cells(scores: readonly AttemptScore[]): string[] {
  return ROWS.map(([, of]) => {
    const { found, of: total } = of(scores);
    return total === 0 ? '–' : `${((100 * found) / total).toFixed(1)} % of ${total}`;
  });
}
