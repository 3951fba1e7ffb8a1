import { expect, test } from 'vitest';
import { decideSource } from '../../src/pitch/source.js';
import { runNode } from './child.js';
import { mixChannels, RATE, soloChannel } from './song.js';

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

test('processor time is told apart from waiting', async () => {
  const busy = 'const end = Date.now() + 300; while (Date.now() < end) Math.sqrt(end);';
  const waiting = 'setTimeout(() => {}, 1000)';
  const [busyCpu, waitingCpu] = [await runNode(['-e', busy]), await runNode(['-e', waiting])].map(
    ({ cpuSeconds }) => cpuSeconds,
  );
  expect(busyCpu).toBeGreaterThan(0.02);
  expect(waitingCpu).toBeGreaterThan(0);
  expect(waitingCpu).toBeLessThan(0.9);
});

test('status and complaints of a child that fails are told', async () => {
  const run = await runNode(['-e', 'console.error("no"); process.exit(3)']);
  expect(run).toMatchObject({ status: 3, errors: 'no\n' });
});

test('the song is as long as asked for, inside full scale, and what its name says', () => {
  const seconds = 6;
  const solo = soloChannel(seconds);
  const [left, right] = mixChannels(seconds);
  expect(solo).toHaveLength(seconds * RATE);
  for (const channel of [solo, left, right]) {
    const peak = channel.reduce((largest, s) => Math.max(largest, Math.abs(s)), 0);
    expect(peak).toBeLessThan(1);
    expect(peak).toBeGreaterThan(0.3);
  }
  const sourceOf = (mono: Float64Array) => {
    // Every third sample, 14.7 kHz, is enough to tell them apart.
    const samples = Float32Array.from({ length: mono.length / 3 }, (_, i) => mono[3 * i]!);
    const source = { container: 'wav', sampleRate: RATE, channels: 1, seconds, warnings: [] } as const;
    return decideSource({ samples, sampleRate: RATE / 3, source }).source;
  };
  expect(sourceOf(solo)).toBe('solo');
  expect(sourceOf(left.map((l, i) => (l + right[i]!) / 2))).toBe('mix');
});
