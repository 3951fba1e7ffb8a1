/** The summary of a batch: its files, and what is printed of it. */
import { join } from 'node:path';
import { indexPage } from '../batch/index-page.js';
import { summaryName } from '../batch/merge.js';
import { failureWords, SUMMARY_HEADINGS, type Summary, summaryJson, summaryRows } from '../batch/summary.js';
import type { Part, SongFailed } from '../batch/types.js';
import { tableWidthOf } from './columns.js';
import type { Context } from './context.js';
import { oneLine, type Speech } from './say.js';
import { table } from './table.js';
import { checkTargets, type Result, writeFiles } from './write-files.js';

const NUMBER_COLUMNS: ReadonlySet<number> = new Set([0, 3, 4, 5]);
const SONG_COLUMN = SUMMARY_HEADINGS.indexOf('song');

/** As JSON, as a table, and as a page; those of a part are named so. */
export async function writeSummary(
  summary: Summary,
  folder: string,
  part: Part | null,
  { force }: { readonly force: boolean },
  { fs }: Context,
): Promise<void> {
  const page = part === null ? 'index.html' : `index-${part.index}-of-${part.count}.html`;
  const files: readonly (readonly [string, string])[] = [
    [summaryName(part, 'json'), summaryJson(summary)],
    [summaryName(part, 'txt'), `${summaryTable(summary, null)}${summary.failed.map(failureLine).join('')}`],
    [page, indexPage(summary)],
  ];
  const rules = { force, input: null };
  const targets = await checkTargets(
    files.map(([name]) => ({ path: join(folder, name), makesFolder: true })),
    rules,
    fs,
  );
  const results: Result[] = targets.map((target, i) => ({ target, content: files[i]![1] }));
  await writeFiles(results, rules, fs);
}

function summaryTable(summary: Summary, width: number | null): string {
  const look = { width, rightAligned: NUMBER_COLUMNS, names: SONG_COLUMN };
  return table(SUMMARY_HEADINGS, summaryRows(summary), look);
}

/** A comment: what reads the table goes past it. */
function failureLine(song: SongFailed): string {
  return `# not heard: ${oneLine(failureWords(song))}\n`;
}

/** As JSON or as a table, and then what was not heard. */
export async function printSummary(
  summary: Summary,
  json: boolean,
  speech: Speech,
  { streams }: Context,
): Promise<void> {
  const width = tableWidthOf(streams.stdout);
  await speech.result(json ? summaryJson(summary) : summaryTable(summary, width));
  for (const song of summary.failed) await speech.word(`not heard: ${failureWords(song)}`);
}
