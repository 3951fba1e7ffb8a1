/**
 * `npx tsx tests/train/rhythm/bar-lines.ts SONGS.jsonl FOLDER > src/rhythm/bars/bar-line-tables.ts`: counts how rhythm
 * and melody go about the bar, from the same songs as main.ts. Only counts are kept, no tune.
 *
 * Of the pop melodies every other one is counted, so that the others can be reported; of the folk songs all.
 */
import { barLineTable } from './bar-line-table.js';
import { BARS, folkTunes, isEven, popTunes } from './barred-tunes.js';

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
