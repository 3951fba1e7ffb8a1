import { spawnSync } from 'node:child_process';
import { expect, test } from 'vitest';
import { workerFlags } from '../../src/batch/worker-flags.js';

test('Node starts with them', () => {
  const script = 'process.stdout.write(String(process.execArgv.length))';
  const flags = workerFlags(process.versions.node);
  const { status, stdout, stderr } = spawnSync(process.execPath, [...flags, '--eval', script], {
    encoding: 'utf8',
  });
  expect([status, stderr]).toEqual([0, '']);
  expect(Number(stdout)).toBeGreaterThanOrEqual(flags.length);
});

test('what only Node 20 knows is left out for others', () => {
  const named = (version: string) => workerFlags(version).map((flag) => flag.split('=')[0]);
  expect(named('20.12.0')).toContain('--interrupt-budget');
  // Node 22.23 and 24.21 were asked: "bad option", and they take the others.
  for (const version of ['22.23.3', '24.21.0', '200.0.0']) {
    expect(named(version)).toEqual([
      '--initial-old-space-size',
      '--wasm-tiering-budget',
      '--single-threaded-gc',
    ]);
  }
});
