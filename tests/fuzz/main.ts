/**
 * `npm run fuzz -- [--cases N] [--seed S] [--minutes M] [--path NAME] [--out FOLDER]`: damaged and lying files for every
 * reader (docs/trust.md). With --path and --seed and one case it repeats a finding.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { alignTable } from '../evaluate/report.js';
import { readBases } from './bases.js';
import { caseBytes, PATHS } from './paths.js';
import { type Finding, type Tally, tryPath } from './trial.js';

const { values } = parseArgs({
  options: {
    cases: { type: 'string', default: '2000' },
    seed: { type: 'string', default: '1' },
    minutes: { type: 'string', default: '600' },
    path: { type: 'string' },
    out: { type: 'string', default: join(tmpdir(), 'cantilena-fuzz-findings') },
  },
});

function whole(name: 'cases' | 'seed' | 'minutes'): number {
  const value = Number(values[name]);
  if (Number.isSafeInteger(value) && value >= 1) return value;
  console.error(`--${name} takes a whole number from 1, not ${values[name]}.`);
  process.exit(2);
}

const [cases, firstSeed, minutes] = [whole('cases'), whole('seed'), whole('minutes')];
const endsAt = Date.now() + 60_000 * minutes;
const paths = Object.keys(PATHS).filter((path) => values.path === undefined || path === values.path);
if (paths.length === 0) {
  console.error(`--path takes one of ${Object.keys(PATHS).join('; ')}.`);
  process.exit(2);
}
const bases = readBases(false);
let findings = 0;

function keep({ path, seed, what }: Finding): void {
  findings++;
  mkdirSync(values.out, { recursive: true });
  const name = join(values.out, `${path.replace(/\W+/g, '-')}-${seed}`);
  writeFileSync(`${name}.bytes`, caseBytes(path, seed, bases));
  writeFileSync(`${name}.txt`, `npm run fuzz -- --path "${path}" --cases 1 --seed ${seed}\n${what}\n`);
  console.error(`${path}, seed ${seed}: ${what.split('\n')[0]}`);
}

const megabytes = (value: number | null) => (value === null ? '-' : value.toFixed(0));

function row(t: Tally): string[] {
  const growth = t.early === null || t.late === null ? '-' : `${megabytes(t.early)} → ${megabytes(t.late)}`;
  const counts = [t.cases, t.crashes, t.hangs, t.wrong].map(String);
  return [t.path, ...counts, t.slowestSeconds.toFixed(2), megabytes(t.peakMegabytes), growth];
}

const each = Math.ceil(cases / paths.length);
const rows: string[][] = [];
for (const path of paths) {
  const seeds = Array.from({ length: each }, (_, i) => firstSeed + i);
  rows.push(row(await tryPath({ path, seeds, quick: false, endsAt, onFinding: keep })));
}
console.log(
  alignTable(
    ['path', 'cases', 'crashes', 'hangs', 'wrong', 'slowest s', 'peak MB', 'MB at 10 % → end'],
    rows,
  ),
);
console.log(findings === 0 ? '\nno findings' : `\n${findings} findings, kept in ${values.out}`);
process.exitCode = findings === 0 ? 0 : 1;
