/** The table of cases.ts through `main` and through `bin/cantilena.js`. */
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { badInputs } from '../../fixtures/maker/bad-inputs.js';
import { argsOf, CASES, type Case, PROCESS_CASES } from './cases.js';
import { makePlaces } from './places.js';
import { asProcess, inProcess, type Outcome } from './run.js';

/** Longest time for any of these inputs, in seconds: the program says no at once. */
const MOST_SECONDS = 10;

const places = makePlaces();
afterAll(places.remove);
const before = readdirSync(places.folder).sort();

function hold(outcome: Outcome, { status, stdout, stderr }: Case): void {
  expect(outcome.stderr).toMatch(stderr ?? /^$/);
  expect(outcome.stdout).toMatch(stdout ?? /^$/);
  expect(outcome.status).toBe(status);
  if (status === 0 || outcome.stderr.startsWith('cantilena writes')) return;
  expect(outcome.stderr, 'one line').toMatch(/^cantilena: [^\n]+\n$/);
  expect(outcome.stderr, 'a sentence').toMatch(/[.?]\n$/);
  expect(outcome.stderr, 'no stack trace').not.toMatch(/\bat .*:\d+:\d+|mistake in cantilena/);
}

describe.each([
  ['through main', inProcess, CASES],
  ['as a process', asProcess, PROCESS_CASES],
] as const)('%s', (_, run, cases) => {
  test.each(cases)('$name', { timeout: MOST_SECONDS * 1000 }, async (aCase) => {
    hold(await run(argsOf(aCase, places.at), aCase), aCase);
  });

  test('nothing was written, and what was there is as it was', () => {
    expect(readdirSync(places.folder).sort()).toEqual(before);
    expect(readFileSync(places.at('there.mid'), 'utf8')).toBe('something dear');
  });
});

test('every input that is bad or odd has its case', () => {
  const named = new Set(CASES.flatMap(({ args }) => args));
  expect(Object.keys(badInputs()).filter((name) => !named.has(`@${name}.wav`))).toEqual([]);
});
