/**
 * `npx tsx tests/train/rhythm/bar-lines.ts SONGS.jsonl FOLDER > src/rhythm/bars/bar-line-tables.ts`: counts how rhythm
 * and melody go about the bar, from the same songs as main.ts. Only counts are kept, no tune.
 *
 * Of the pop melodies every other one is counted, so that the others can be reported; of the folk songs all.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { rhythmsOf } from './abc.js';
import { type BarredTune, barLineTable } from './bar-line-table.js';

/** Sixteenths in a bar of each metre that is counted. */
const BARS: Readonly<Record<string, number>> = { '2/4': 8, '3/4': 12, '4/4': 16, '6/8': 12 };

/** The metre in which a time signature is counted, and how much longer its notes are written there. */
const FOLK: Readonly<Record<string, readonly [metre: string, longer: number]>> = {
  '4/4': ['4/4', 1],
  '2/2': ['4/4', 1],
  '4/2': ['4/4', 0.5],
  '2/4': ['2/4', 1],
  '3/4': ['3/4', 1],
  '3/2': ['3/4', 0.5],
  '3/8': ['3/4', 2],
  '6/8': ['6/8', 1],
  '6/4': ['6/8', 0.5],
};
const FEWEST_NOTES = 12;

const isEven = (_: unknown, i: number) => i % 2 === 0;

function popTunes(path: string): BarredTune[] {
  const songs = readFileSync(path, 'utf8').trim().split('\n');
  return songs.map((line) => {
    const onsets: number[] = [];
    const pitches: number[] = [];
    let at = 0;
    for (const [midi, length] of (JSON.parse(line) as { notes: [number, number][] }).notes) {
      if (midi > 0) {
        onsets.push(at);
        pitches.push(midi);
      }
      at += length;
    }
    return { onsets, midi: pitches };
  });
}

function folkTunes(folder: string): Record<string, BarredTune[]> {
  const tunes: Record<string, BarredTune[]> = {};
  const files = readdirSync(folder).filter((name) => name.endsWith('.abc'));
  for (const file of files.sort()) {
    for (const tune of rhythmsOf(readFileSync(join(folder, file), 'latin1'))) {
      const kind = FOLK[`${tune.numerator}/${tune.denominator}`];
      if (kind === undefined) continue;
      const onsets = tune.onsets.map((onset) => onset * kind[1]);
      if (onsets.length < FEWEST_NOTES || !onsets.every((onset) => Number.isInteger(onset))) continue;
      tunes[kind[0]] ??= [];
      tunes[kind[0]]!.push({ onsets, midi: tune.midi });
    }
  }
  return tunes;
}

const [songs, folder] = process.argv.slice(2);
if (songs === undefined || folder === undefined)
  throw new Error('Give SONGS.jsonl and a folder of ABC files.');
const pop = popTunes(songs).filter(isEven);
const folk = folkTunes(folder);
console.log(
  '/** How rhythm and melody go about the bar: made by tests/train/rhythm/bar-lines.ts, read by bar-line.ts. */',
);
console.log('export const BAR_LINE_TABLES: Readonly<Record<string, readonly (readonly string[])[]>> = {');
for (const [metre, bar] of Object.entries(BARS)) {
  const kinds = [...(metre === '4/4' ? [pop] : []), folk[metre]!];
  console.log(`  // ${kinds.map((tunes) => `${tunes.length} tunes`).join(', ')}`);
  console.log(`  '${metre}': [`);
  for (const tunes of kinds) {
    console.log('    [');
    for (const row of barLineTable(tunes, bar)) console.log(`      '${row}',`);
    console.log('    ],');
  }
  console.log('  ],');
}
console.log('};');
