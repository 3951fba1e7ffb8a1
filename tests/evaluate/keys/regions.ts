/** How well a change of key is found: pop melodies as they are, and with their last third moved up one or two semitones. */
import { keyRegions } from '../../../src/theory/regions.js';
import { readSongs, type Song } from '../../train/keys/songs.js';
import { alignTable } from '../report.js';

/** Index of the first note of the last third, taken at the next start of a line. */
function lastThird({ notes }: Song): number {
  const from = Math.floor((2 * notes.length) / 3);
  const end = notes.findIndex((note, i) => i >= from && note.lineEnd);
  return end < 0 || end === notes.length - 1 ? from : end + 1;
}

function movedRow(label: string, songs: readonly Song[], step: number): string[] {
  let found = 0;
  let only = 0;
  const errors: number[] = [];
  for (const song of songs) {
    const at = lastThird(song);
    const moved = song.notes.map((note, i) => (i < at ? note : { ...note, midi: note.midi + step }));
    const starts = keyRegions(moved)
      .slice(1)
      .map((region) => region.first - 1);
    const near = starts.filter((start) => Math.abs(start - at) <= 16);
    if (near.length > 0) {
      found++;
      errors.push(Math.min(...near.map((start) => Math.abs(start - at))));
    }
    if (near.length === 1 && starts.length === 1) only++;
  }
  const share = (count: number) => (count / songs.length).toFixed(3);
  const exact = errors.filter((error) => error === 0).length;
  return [`${label}, up ${step}`, String(songs.length), share(found), share(exact), share(only)];
}

/** The table for the melodies under `root`, or null where they are not there. */
export function regionsReport(root: string): string | null {
  const songs = readSongs(root);
  if (songs === null) return null;
  const halves = [
    ['even songs (cost chosen on)', songs.filter((_, i) => i % 2 === 0)],
    ['odd songs', songs.filter((_, i) => i % 2 === 1)],
  ] as const;
  const head = ['change of key', 'melodies', 'within 16 notes', 'at the note', 'no other change'];
  const alarms = halves.map(([label, half]) => {
    const changed = half.filter((song) => keyRegions(song.notes).length > 1).length;
    return [`${label}, unchanged: false alarms`, String(half.length), (changed / half.length).toFixed(3)];
  });
  return [
    alignTable(
      head,
      halves.flatMap(([label, half]) => [1, 2].map((step) => movedRow(label, half, step))),
    ),
    alignTable(['one key throughout', 'melodies', 'share'], alarms),
  ].join('\n\n');
}
