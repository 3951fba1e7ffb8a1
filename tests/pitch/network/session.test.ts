import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { UsageError } from '../../../src/errors.js';
import { harmonicFrames, PITCH_BINS } from '../../../src/pitch/network/harmonic.js';
import { fineLevels } from '../../../src/pitch/network/mel.js';
import { runMixNetwork } from '../../../src/pitch/network/mix-network.js';
import { pieces } from '../../../src/pitch/network/pieces.js';
import { type Engine, load, loadNetwork } from '../../../src/pitch/network/session.js';
import { SOLO_VALUES } from '../../../src/pitch/network/solo-frames.js';
import { runSoloNetwork } from '../../../src/pitch/network/solo-network.js';

const ROOT = join(import.meta.dirname, '../../..');
const random = seededRandom(31);

describe('pieces', () => {
  test('keep every frame once, in order, each with its context or the end', () => {
    const number = fc.integer({ min: 1, max: 300 });
    fc.assert(
      fc.property(fc.nat(1000), number, fc.nat(100), (total, size, context) => {
        let next = 0;
        for (const piece of pieces(total, size, context)) {
          expect(piece.keepFirst).toBe(next);
          next += piece.keepCount;
          expect(piece.first).toBe(Math.max(0, piece.keepFirst - context));
          expect(piece.first + piece.count).toBe(Math.min(total, next + context));
          expect(piece.keepCount).toBeLessThanOrEqual(size);
        }
        expect(next).toBe(total);
      }),
    );
  });
});

function largestDifference(a: Float32Array, b: Float32Array): number {
  expect(a.length).toBe(b.length);
  return a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0);
}

describe('a network says the same in pieces as at once', () => {
  test('the mix network', async () => {
    const samples = Float32Array.from({ length: 16_000 * 3 + 3277 }, () => random.between(-0.3, 0.3));
    const { mel } = fineLevels(samples, 1, 2 * harmonicFrames(samples.length));
    const source = { samples, side: null, gain: 1 };
    const network = { look: await loadNetwork('mix-look'), listen: await loadNetwork('mix-listen') };
    const whole = await runMixNetwork(network, source, mel);
    expect(whole.frameCount).toBe(161);
    expect(whole.salience).toHaveLength(161 * PITCH_BINS);
    // That there is something to compare: the network's answers are not all one number.
    expect(largestDifference(whole.voiced, whole.voiced.slice().reverse())).toBeGreaterThan(1e-3);
    const parts = await runMixNetwork(network, source, mel, 50);
    for (const head of ['salience', 'voiced', 'sounding', 'onset'] as const) {
      expect(largestDifference(parts[head], whole[head])).toBeLessThan(1e-3);
    }
  });

  test('the solo network', async () => {
    const count = 517;
    const frames = Float32Array.from({ length: SOLO_VALUES * count }, () => random.next());
    const network = await loadNetwork('solo');
    const whole = await runSoloNetwork(network, frames);
    expect(largestDifference(whole.onset, whole.onset.slice().reverse())).toBeGreaterThan(1e-3);
    const parts = await runSoloNetwork(network, frames, 100);
    for (const head of ['voiced', 'sounding', 'onset'] as const) {
      expect(largestDifference(parts[head], whole[head])).toBeLessThan(1e-3);
    }
  });
});

test('the heads lie in their order: voiced, sounding, onset, each at its two moments', async () => {
  const frames = harmonicFrames(640);
  const look = {
    run: async () => ({
      salience: new Float32Array(frames * PITCH_BINS).fill(1),
      seen: new Float32Array(128 * frames),
    }),
  };
  const listen = {
    run: async () => ({
      lean: new Float32Array(frames * PITCH_BINS).fill(2),
      heads: Float32Array.from({ length: 6 * frames }, (_, i) => i),
    }),
  };
  const source = { samples: new Float32Array(640), side: null, gain: 1 };
  const { mel } = fineLevels(source.samples, 1, 2 * frames);
  const { salience, voiced, sounding, onset } = await runMixNetwork({ look, listen }, source, mel);
  expect([...new Set(salience)]).toEqual([3]);
  expect([...voiced]).toEqual([0, 1, 6, 7, 12, 13]);
  expect([...sounding]).toEqual([2, 3, 8, 9, 14, 15]);
  expect([...onset]).toEqual([4, 5, 10, 11, 16, 17]);
});

describe('what cannot run says so in one sentence', () => {
  test('an engine that does not start', async () => {
    const start = async (): Promise<Engine> => {
      throw new Error(
        "Cannot find module '../bin/napi-v6/sunos/x64/onnxruntime_binding.node'\nRequire stack:",
      );
    };
    const failed = load('mix-look.onnx', start);
    await expect(failed).rejects.toThrow(UsageError);
    await expect(failed).rejects.toThrow(
      /onnxruntime-node, doesn't start here \(.*sunos.*\): install cantilena again/,
    );
    await expect(failed).rejects.not.toThrow(/\n/);
  });

  test('an engine that is not there, as after an install script that failed', async () => {
    const start = async (): Promise<Engine> => {
      const code = 'ERR_MODULE_NOT_FOUND';
      throw Object.assign(new Error("Cannot find package 'onnxruntime-node' imported from here"), { code });
    };
    await expect(load('mix-look.onnx', start)).rejects.toThrow(
      /onnxruntime-node, is not installed: install cantilena again\.$/,
    );
  });

  test('weights that cannot be read', async () => {
    const { InferenceSession, Tensor } = await import('onnxruntime-node');
    const start = async (): Promise<Engine> => ({
      InferenceSession: { ...InferenceSession, create: () => InferenceSession.create(new Uint8Array(8)) },
      Tensor,
    });
    const failed = load('weights/solo.onnx', start);
    await expect(failed).rejects.toThrow(UsageError);
    await expect(failed).rejects.toThrow(
      /weights.solo\.onnx, cannot be read \(.+\): install the program again/,
    );
  });
});

describe('weights', () => {
  const folder = join(ROOT, 'src/pitch/network/weights');

  test('take 4 MB at most together', () => {
    const files = readdirSync(folder);
    expect(files).toEqual(['mix-listen.onnx', 'mix-look.onnx', 'solo.onnx']);
    const bytes = files.reduce((sum, file) => sum + statSync(join(folder, file)).size, 0);
    expect(bytes).toBeLessThanOrEqual(4_000_000);
  });

  const built = join(ROOT, 'dist/pitch/network');
  test.skipIf(!existsSync(built))('are those of the compiled program (skipped until it is built)', () => {
    for (const file of readdirSync(folder)) {
      const same = readFileSync(join(built, 'weights', file)).equals(readFileSync(join(folder, file)));
      expect(same, `${file} is another: run npm run build`).toBe(true);
    }
  });

  test.skipIf(!existsSync(built))('load from the compiled program (skipped until it is built)', () => {
    const script = `
      const { loadNetwork } = await import(${JSON.stringify(join(built, 'session.js'))});
      await loadNetwork('mix-look');
      await loadNetwork('mix-listen');
      await loadNetwork('solo');
      console.log('loaded');`;
    const run = spawnSync(process.execPath, ['--input-type=module', '-e', script], { encoding: 'utf8' });
    expect(run.stderr).toBe('');
    expect(run.stdout).toBe('loaded\n');
  });
});

test('the engine writes nothing of its own, neither at home nor among temporary files', () => {
  const home = mkdtempSync(join(tmpdir(), 'cantilena-home-'));
  const logs = () => readdirSync('/tmp').filter((name) => name === `mat-debug-${run.pid}.log`);
  const script = `
    const { loadNetwork } = await import(${JSON.stringify(join(ROOT, 'src/pitch/network/session.ts'))});
    await loadNetwork('solo');
    console.log('loaded');`;
  const run = spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, HOME: home, XDG_CACHE_HOME: '' },
  });
  try {
    expect(run.stdout).toBe('loaded\n');
    expect(readdirSync(home)).toEqual([]);
    expect(process.platform === 'linux' ? logs() : []).toEqual([]);
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
});

test('the engine is not loaded before a network is asked for', () => {
  const script = `
    await import(${JSON.stringify(join(ROOT, 'src/pitch/mix.ts'))});
    const { createRequire } = await import('node:module');
    const loaded = Object.keys(createRequire(${JSON.stringify(join(ROOT, 'x.js'))}).cache);
    console.log(loaded.filter((file) => file.includes('onnxruntime')).length);`;
  const run = spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  expect(run.stdout).toBe('0\n');
});
