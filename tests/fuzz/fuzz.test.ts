/** A small share of `npm run fuzz`, and that it would notice. */
import { expect, test } from 'vitest';
import { readBases } from './bases.js';
import { caseBytes, isSentence, outcomeOf, PATHS } from './paths.js';
import { type Finding, tryPath } from './trial.js';

/** Cases of each path. */
const CASES = 22;
/** Seeds that `npm run fuzz` begins with are 1 and up: these lie apart from them. */
const FIRST_SEED = 1_000_000;

const bases = readBases(true);

for (const path of Object.keys(PATHS)) {
  test(`${path}: ${CASES} damaged files give a value or one clear sentence`, async () => {
    for (let seed = FIRST_SEED; seed < FIRST_SEED + CASES; seed++) {
      expect({ seed, wrong: await outcomeOf(path, caseBytes(path, seed, bases)) }).toEqual({
        seed,
        wrong: null,
      });
    }
  });
}

test('whole files are read on every path', async () => {
  for (const [path, { kind }] of Object.entries(PATHS)) {
    for (const base of bases[kind]!) expect(await outcomeOf(path, base)).toBeNull();
  }
});

test('a case is the same bytes every time', () => {
  for (const path of Object.keys(PATHS)) {
    expect(Buffer.compare(caseBytes(path, 5, bases), caseBytes(path, 5, bases))).toBe(0);
  }
});

test('sentences end as such, on one line', () => {
  expect(isSentence('memo is empty: WAV is read.')).toBe(true);
  for (const text of ['no full stop', 'two\nlines.', 'Error: x\n    at main.', 'red \u001b[31m.']) {
    expect(isSentence(text)).toBe(false);
  }
});

test('in a process of its own: cases are counted, and a process that dies is a finding', async () => {
  const findings: Finding[] = [];
  const plan = { quick: true, endsAt: Number.POSITIVE_INFINITY, onFinding: (f: Finding) => findings.push(f) };
  const tally = await tryPath({ ...plan, path: 'midi', seeds: [1, 2, 3] });
  expect(tally).toMatchObject({ cases: 3, crashes: 0, hangs: 0, wrong: 0 });
  expect(tally.peakMegabytes).toBeGreaterThan(20);
  expect(findings).toEqual([]);
  // There is no such path: the process throws where nobody catches.
  expect(await tryPath({ ...plan, path: 'none', seeds: [7] })).toMatchObject({ cases: 1, crashes: 1 });
  expect(findings).toEqual([{ path: 'none', seed: 7, what: 'crash' }]);
});
