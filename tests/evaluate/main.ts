/** `npm run evaluate -- DIR`: scores on recordings with known answers (docs/measured.md). Nothing is kept. */
import { readFileSync } from 'node:fs';
import { decodeRecording } from '../../src/audio/decode.js';
import { NoMelodyError } from '../../src/errors.js';
import { hear } from '../../src/pipeline/hear.js';
import type { HearRequest } from '../../src/pipeline/options.js';
import { type EvaluateRequest, parseRequest } from './arguments.js';
import { type Case, findCases } from './cases.js';
import { type Hearing, nothingHeard, type Row, rowsOf, sourceOf } from './evaluate.js';
import { reportJson, reportText } from './report.js';
import { takenTable } from './taken.js';

async function listen(known: Case, source: HearRequest['source']): Promise<Hearing> {
  const bytes = readFileSync(known.path);
  const begun = performance.now();
  const recording = await decodeRecording(bytes, known.path, { side: source !== 'solo' });
  const decoded = performance.now();
  const seconds = recording.samples.length / recording.sampleRate;
  const request = { source, lowestMidi: null, highestMidi: null };
  const { heardAs, track, heard } = await hear(recording, request).catch((error: unknown) => {
    // A recording in which nothing is found scores 0: left out, it would lift the mean.
    if (error instanceof NoMelodyError) return { ...nothingHeard(seconds), heardAs: null };
    throw error;
  });
  const done = performance.now();
  return {
    taken: heardAs?.source ?? null,
    track,
    heard,
    seconds,
    decodeSeconds: (decoded - begun) / 1000,
    hearSeconds: (done - decoded) / 1000,
  };
}

/** Recordings, each once, in which a melody was found. */
function decided(rows: readonly Row[]) {
  const first = rows.filter((row, i) => rows.findIndex((other) => other.name === row.name) === i);
  return first.flatMap(({ group, taken }) =>
    taken === null ? [] : [{ group, source: sourceOf(group), taken }],
  );
}

async function run(request: EvaluateRequest): Promise<number> {
  const { cases, absent } = findCases(request.root, request.choice);
  for (const part of absent) console.error(`skipped: ${request.root} has no ${part}`);
  if (cases.length === 0) {
    console.error('There is nothing to evaluate.');
    return 2;
  }
  const rows: Row[] = [];
  let failed = 0;
  for (const known of cases) {
    try {
      rows.push(...rowsOf(known, await listen(known, request.source ?? sourceOf(known.group))));
    } catch (error) {
      failed++;
      console.error(`failed: ${known.path}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  console.log(request.json ? reportJson(rows) : reportText(rows));
  if (request.source === 'auto' && !request.json) console.log(`\n${takenTable(decided(rows))}`);
  if (failed > 0) console.error(`${failed} of ${cases.length} recordings failed and are in no mean.`);
  return failed > 0 ? 1 : 0;
}

try {
  process.exitCode = await run(parseRequest(process.argv.slice(2)));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
