/**
 * `npx tsx tests/train/rhythm/main.ts SONGS.jsonl FOLDER > src/rhythm/bars/metre-tables.ts`: counts how notes follow
 * each other in the bar.
 *
 * SONGS.jsonl holds pop melodies as `{ notes: [MIDI or 0 for a rest, sixteenths][] }` in bars of 16 sixteenths
 * (every other line is counted, so that the others can be reported); FOLDER holds folk songs in ABC notation:
 * the Essen folk-song collection (Schaffrath 1995) as Shlien set it in ABC. Only counts are kept, no tune.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { rhythmsOf } from './abc.js';
import { encodeTable, type Rhythm, tableOf } from './table.js';

/** Which table a time signature is counted in, and how much longer its notes are written there. */
const FOLK: Readonly<Record<string, readonly (readonly [table: string, longer: number])[]>> = {
  '4/4': [['folkFour', 1]],
  '2/2': [['folkFour', 1]],
  '4/2': [['folkFour', 0.5]],
  '2/4': [
    ['folkTwo', 1],
    ['folkFour', 2],
  ],
  '3/4': [['folkThree', 1]],
  '3/2': [['folkThree', 0.5]],
  '3/8': [['folkThree', 2]],
  '6/8': [['folkSix', 1]],
  '6/4': [['folkSix', 0.5]],
};

const BAR_SIXTEENTHS: Readonly<Record<string, number>> = {
  popFour: 16,
  folkFour: 16,
  folkThree: 12,
  folkSix: 12,
  folkTwo: 8,
};

function popRhythms(path: string): Rhythm[] {
  const songs = readFileSync(path, 'utf8').trim().split('\n');
  return songs
    .filter((_, i) => i % 2 === 0)
    .map((line) => {
      const onsets: number[] = [];
      let at = 0;
      for (const [midi, length] of (JSON.parse(line) as { notes: [number, number][] }).notes) {
        if (midi > 0) onsets.push(at);
        at += length;
      }
      return onsets;
    });
}

function folkRhythms(folder: string): Record<string, Rhythm[]> {
  const tables: Record<string, Rhythm[]> = {};
  for (const file of readdirSync(folder)
    .filter((name) => name.endsWith('.abc'))
    .sort()) {
    for (const tune of rhythmsOf(readFileSync(join(folder, file), 'latin1'))) {
      for (const [table, longer] of FOLK[`${tune.numerator}/${tune.denominator}`] ?? []) {
        const onsets = tune.onsets.map((onset) => onset * longer);
        if (onsets.every((onset) => Number.isInteger(onset))) {
          tables[table] ??= [];
          tables[table].push(onsets);
        }
      }
    }
  }
  return tables;
}

const [songs, folder] = process.argv.slice(2);
if (songs === undefined || folder === undefined)
  throw new Error('Give SONGS.jsonl and a folder of ABC files.');
const rhythms: Record<string, Rhythm[]> = { popFour: popRhythms(songs), ...folkRhythms(folder) };
console.log(
  '/** How notes follow each other in the bar: made by tests/train/rhythm/main.ts, read by metre.ts. */',
);
for (const [name, bar] of Object.entries(BAR_SIXTEENTHS)) {
  const table = encodeTable(tableOf(rhythms[name]!, bar));
  console.log(`\n/** From ${rhythms[name]!.length} tunes. */`);
  console.log(`export const ${name.replace(/[A-Z]/g, (c) => `_${c}`).toUpperCase()} = [`);
  for (const row of table) console.log(`  '${row}',`);
  console.log('] as const;');
}
