import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { isThere, runNode } from './child.js';
import { tuneSamples, wavOf } from './tune.js';

test('a child that holds 200 MB for a while is seen to hold them, where the system tells', async () => {
  // Buffer.alloc with a fill touches every page; the timer gives the watcher the time to look.
  const run = await runNode(['-e', 'globalThis.b = Buffer.alloc(200e6, 1); setTimeout(() => {}, 200)']);
  expect(run.status).toBe(0);
  expect(run.seconds).toBeGreaterThan(0.2);
  if (process.platform === 'linux') {
    expect(run.peakMegabytes).toBeGreaterThan(200);
    expect(run.peakMegabytes).toBeLessThan(400);
  }
});

test('status and complaints of a child that fails are told', async () => {
  const run = await runNode(['-e', 'console.error("no"); process.exit(3)']);
  expect(run).toMatchObject({ status: 3, errors: 'no\n' });
});

test('the tune is as long as asked for and stays inside full scale', () => {
  const samples = tuneSamples(3);
  expect(samples).toHaveLength(132_300);
  const peak = samples.reduce((largest, s) => Math.max(largest, Math.abs(s)), 0);
  expect(peak).toBeLessThan(1);
  expect(peak).toBeGreaterThan(0.3);
});

test.skipIf(!isThere('ffmpeg', '-version'))('another program reads the WAV (skipped without ffmpeg)', () => {
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-bench-test-'));
  try {
    const path = join(folder, 'tune.wav');
    const samples = tuneSamples(0.5);
    writeFileSync(path, wavOf(samples));
    const { stdout } = spawnSync('ffmpeg', ['-v', 'error', '-i', path, '-f', 'f32le', '-']);
    const read = new Float32Array(new Uint8Array(stdout).buffer);
    expect(read).toHaveLength(samples.length);
    // A step of 16 bits is 3·10⁻⁵.
    expect(Math.max(...read.map((s, i) => Math.abs(s - samples[i]!)))).toBeLessThan(6e-5);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
