/** `npm run evaluate -- DIR`: scores on recordings and melodies with known answers (docs/measured.md). Nothing is kept. */
import { type EvaluateRequest, parseRequest } from './arguments.js';
import { findCases } from './cases.js';
import { type Row, rowsOf } from './evaluate.js';
import { listen } from './listen.js';
import { reportJson, reportText } from './report.js';
import { printReports } from './reports.js';
import { takenTable } from './taken.js';

/** Recordings, each once, in which a melody was found. */
function decided(rows: readonly Row[]) {
  const first = rows.filter((row, i) => rows.findIndex((other) => other.name === row.name) === i);
  return first.flatMap(({ group, source, taken }) => (taken === null ? [] : [{ group, source, taken }]));
}

/** Hears and scores the recordings: how many there are, and how many of them failed. */
async function runRecordings(request: EvaluateRequest): Promise<{ heard: number; failed: number }> {
  const { cases, absent } = findCases(request.root, request.choice, request.karaoke);
  for (const part of absent) console.error(`skipped: ${request.root} has no ${part}`);
  if (cases.length === 0) return { heard: 0, failed: 0 };
  const rows: Row[] = [];
  let failed = 0;
  for (const known of cases) {
    try {
      rows.push(...rowsOf(known, await listen(known, request)));
    } catch (error) {
      failed++;
      console.error(`failed: ${known.path}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  console.log(request.json ? reportJson(rows) : reportText(rows));
  if (request.source === 'auto' && !request.json) console.log(`\n${takenTable(decided(rows))}`);
  if (failed > 0) console.error(`${failed} of ${cases.length} recordings failed and are in no mean.`);
  return { heard: cases.length, failed };
}

async function run(request: EvaluateRequest): Promise<number> {
  const recordings = await runRecordings(request);
  let separate = recordings.heard > 0;
  const reports = await printReports(request.root, request.reports, {
    print: (table) => {
      console.log(separate ? `\n${table}` : table);
      separate = true;
    },
    warn: (sentence) => console.error(sentence),
  });
  const failed = recordings.failed + reports.failed;
  if (recordings.heard + reports.printed + failed === 0) {
    console.error('There is nothing to evaluate.');
    return 2;
  }
  return failed > 0 ? 1 : 0;
}

try {
  process.exitCode = await run(parseRequest(process.argv.slice(2)));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
