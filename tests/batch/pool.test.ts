import { expect, test } from 'vitest';
import { runPool } from '../../src/batch/pool.js';
import type { JobOutcome } from '../../src/batch/types.js';
import { workerFlags } from '../../src/batch/worker-flags.js';

const workerUrl = new URL('./worker.mjs', import.meta.url).href;

async function run(names: readonly string[], workers: number, stopAfter = Number.POSITIVE_INFINITY) {
  const outcomes: JobOutcome[] = [];
  const stop = new AbortController();
  await runPool({
    workerUrl,
    workers,
    jobs: names.map((name) => ({
      song: { path: name, name },
      root: '/',
      options: { milliseconds: 5 },
      again: false,
    })),
    stop: stop.signal,
    onBegin() {},
    async onOutcome(outcome) {
      outcomes.push(outcome);
      if (outcomes.length >= stopAfter) stop.abort();
    },
  });
  return outcomes;
}

const byName = (outcomes: readonly JobOutcome[]) => outcomes.map(({ song }) => song.name).sort();

test.each([1, 2, 3])('every song is heard once by %i workers', async (workers) => {
  const names = Array.from({ length: 7 }, (_, i) => `song ${i}`);
  expect(byName(await run(names, workers))).toEqual(names);
});

test('a worker that dies is replaced, its song is told, and the others are heard', async () => {
  const names = ['a', 'b dies', 'c', 'd throws', 'e', 'f'];
  const outcomes = await run(names, 2);
  expect(byName(outcomes)).toEqual(names);
  const failed = outcomes.filter(({ kind }) => kind === 'failed').map(({ song }) => song);
  expect(failed.map(({ name }) => name).sort()).toEqual(['b dies', 'd throws']);
  for (const song of failed)
    expect(song).toHaveProperty('message', expect.stringMatching(/^the process .*\.$/));
});

test('once stopped, what was begun is finished and nothing else is begun', async () => {
  const outcomes = await run(
    Array.from({ length: 9 }, (_, i) => `song ${i}`),
    2,
    3,
  );
  expect(outcomes.length).toBeGreaterThanOrEqual(3);
  expect(outcomes.length).toBeLessThanOrEqual(4);
});

test('a process that ends with what stops the batch has tried no song', async () => {
  const outcomes: JobOutcome[] = [];
  const stop = new AbortController();
  const job = (name: string) => ({
    song: { path: name, name },
    root: '/',
    options: { milliseconds: 5 },
    again: false,
  });
  await runPool({
    workerUrl,
    workers: 1,
    jobs: ['a', 'b dies', 'c'].map(job),
    stop: stop.signal,
    onBegin: ({ song }) => song.name === 'b dies' && stop.abort(),
    onOutcome: async (outcome) => void outcomes.push(outcome),
  });
  expect(byName(outcomes)).toEqual(['a']);
});

test('workers run with the flags for workers', async () => {
  const [outcome] = await run(['a'], 1);
  expect(outcome?.song).toHaveProperty(
    'warnings',
    expect.arrayContaining([...workerFlags(process.versions.node)]),
  );
});
