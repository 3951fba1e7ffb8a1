/** The training programs from recordings to ONNX files, on seconds of sound and two steps of each network. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { perform } from '../../../fixtures/maker/perform.js';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { wavBytes } from '../../../fixtures/maker/wav.js';
import { trainingPlan } from '../../train/performers.js';
import { band } from '../band.js';

const ROOT = join(import.meta.dirname, '../../..');
const TRAINING = join(ROOT, 'src/pitch/network/training');
const RATE = 16_000;
const SECONDS = 2.5;

const works = (command: string, ...args: string[]) => spawnSync(command, args).status === 0;
const PYTHON = ['python3', '/usr/bin/python3'].find((python) => works(python, '-c', 'import torch, numpy'));
const LIBOPUS = "import ctypes.util, sys; sys.exit(ctypes.util.find_library('opus') is None)";
const canTrain = PYTHON !== undefined && works(PYTHON, '-c', LIBOPUS) && works('ffmpeg', '-version');

let folder = '';
const at = (path: string) => join(folder, path);
const run = (command: string, args: readonly string[], cwd: string) => {
  const env = { ...process.env, PYTHONDONTWRITEBYTECODE: '1', OMP_NUM_THREADS: '1' };
  const { status, stdout, stderr } = spawnSync(command, args, { cwd, env, encoding: 'utf8' });
  expect(status, stderr).toBe(0);
  return stdout;
};
/** Programs of the training one after the other, in one process: most of their time here is torch's start. */
const python = (...programs: string[][]) => {
  const script = [
    'import json, runpy, sys',
    'for words in json.loads(sys.argv[1]):',
    "    sys.argv = words; runpy.run_path(words[0], run_name='__main__')",
  ].join('\n');
  return run(PYTHON!, ['-c', script, JSON.stringify(programs)], TRAINING);
};

/** The first seconds of a computed singer, and the notes and pitch in them. */
function singer(index: number) {
  const plan = trainingPlan(index, seededRandom(9));
  const { channels, notes } = perform(plan);
  const samples = Float32Array.from(channels[0]!.subarray(0, SECONDS * RATE));
  return { samples, notes: notes.filter(({ end }) => end < SECONDS) };
}

const wav = (channels: readonly Float32Array[]) =>
  wavBytes(
    channels.map((c) => Float64Array.from(c)),
    { sampleRate: RATE, bits: 16 },
  );
const ffmpeg = (from: string, to: string) => run('ffmpeg', ['-v', 'error', '-i', at(from), at(to)], ROOT);

/** Two karaoke clips (one of a singer held out), a sight-singer, a computed voice and a computed band. */
function writeMaterial(): void {
  for (const part of ['mir1k', 'ssvd', 'made', 'bands']) mkdirSync(at(part));
  const behind = band(SECONDS, ['chords', 'bass', 'drums']);
  const { samples, notes } = singer(1);
  for (const name of ['ann_1_01', 'bug_1_01']) {
    writeFileSync(at(`${name}.wav`), wav([behind, samples]));
    ffmpeg(`${name}.wav`, `mir1k/${name}.opus`);
    const lines = Array.from({ length: Math.floor(50 * SECONDS) }, (_, n) => {
      const note = notes.find(({ start, end }) => (n + 1) / 50 >= start && (n + 1) / 50 < end);
      return note?.midi ?? 0;
    });
    writeFileSync(at(`mir1k/${name}.pv`), lines.join('\n'));
  }
  const sight = singer(0);
  writeFileSync(at('1001.wav'), wav([sight.samples]));
  ffmpeg('1001.wav', 'ssvd/1001.flac');
  writeFileSync(at('ssvd/1001.txt'), sight.notes.map((n) => `${n.start}\t${n.end}\t${n.midi}`).join('\n'));
  const made = singer(3);
  writeFileSync(at('made/sung-03.wav'), wav([made.samples]));
  writeFileSync(at('made/sung-03.truth.json'), JSON.stringify({ notes: made.notes }));
  writeFileSync(at('bands/band-0001.wav'), wav([behind]));
}

describe.skipIf(!canTrain)('training (skipped where python3 with torch, libopus or ffmpeg is absent)', () => {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'cantilena-training-'));
    writeMaterial();
    python(['pack.py', '--mir1k', at('mir1k'), '--karaoke-voices', at('voices')]);
    const recordings = ['voices/ann_1_01.wav', 'voices/bug_1_01.wav', 'ssvd/1001.flac', 'made/sung-03.wav'];
    run('npx', ['tsx', 'tests/train/tracks.ts', at('tracks'), ...recordings.map(at)], ROOT);
    const parts = ['mir1k', 'ssvd', 'tracks', 'made', 'bands'].flatMap((part) => [`--${part}`, at(part)]);
    python(['pack.py', ...parts, '--out', at('pack')]);
  }, 60_000);

  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('the pack tells what every clip is, where it lies and what is known of it', () => {
    const clips = JSON.parse(readFileSync(at('pack/index.json'), 'utf8')) as Record<string, unknown>[];
    expect(clips.map(({ kind, name, stream }) => `${kind} ${name} ${stream}`)).toEqual([
      'ssvd 1001 0',
      'mir-voice ann_1_01 1',
      'mir-voice bug_1_01 1',
      'mir-band ann_1_01 2',
      'mir-band bug_1_01 2',
      'made-voice sung-03 3',
      'made-band band-0001 4',
    ]);
    for (const { length } of clips) expect(Math.abs(Number(length) / RATE - SECONDS)).toBeLessThan(0.05);
    expect(clips[0]!.notes).not.toHaveLength(0);
    expect(clips[1]!.notes).toBeNull();
  });

  test('the karaoke voices are the right channel', () => {
    const bytes = readFileSync(at('voices/ann_1_01.wav'));
    const { samples } = singer(1);
    const heard = samples.map((_, i) =>
      44 + 2 * i < bytes.length ? bytes.readInt16LE(44 + 2 * i) / 32768 : 0,
    );
    const product = (a: Float32Array, b: Float32Array) => a.reduce((sum, value, i) => sum + value * b[i]!, 0);
    const likeness = product(heard, samples) / Math.sqrt(product(heard, heard) * product(samples, samples));
    expect(likeness).toBeGreaterThan(0.9);
  });

  test('two steps of each network give weights that the engine runs', async () => {
    const material = ['--material', at('pack')];
    const small = ['--steps', '2', '--batch', '1', '--out'];
    const said = python(
      ['train_solo.py', ...material, '--fold', '1/5', ...small, at('solo.npz')],
      ['label_voices.py', ...material, '--weights', at('solo.npz'), '--out', at('heard.npz')],
      ['train_mix.py', ...material, '--heard', at('heard.npz'), ...small, at('mix.npz')],
      ['export_network.py', 'solo', at('solo.npz'), at('')],
      ['export_network.py', 'mix', at('mix.npz'), at('')],
    );
    expect(said).toMatch(/step 2: loss \d+\.\d+/);
    // The only sight-singer is left out, and measured; so is the karaoke singer that is held out.
    expect(said).toMatch(/"left out": 1, "loss": \d/);
    expect(said.match(/"step": 2, "RPA": \d/g)).toHaveLength(3);
    const { InferenceSession, Tensor } = await import('onnxruntime-node');
    const answers = async (kind: string, inputs: Record<string, number[]>) => {
      const session = await InferenceSession.create(at(`${kind}.onnx`));
      const feeds = Object.entries(inputs).map(([key, shape]) => {
        const size = shape.reduce((a, b) => a * b);
        return [key, new Tensor('float32', new Float32Array(size).fill(0.5), shape)];
      });
      const outputs = await session.run(Object.fromEntries(feeds));
      for (const { data } of Object.values(outputs)) {
        expect((data as Float32Array).every(Number.isFinite)).toBe(true);
      }
      return Object.fromEntries(Object.entries(outputs).map(([key, { dims }]) => [key, [...dims]]));
    };
    expect(await answers('solo', { frames: [1, 52, 33] })).toEqual({ heads: [1, 33, 3] });
    expect(await answers('mix-look', { harmonics: [1, 8, 21, 300] })).toEqual({
      salience: [1, 21, 300],
      seen: [1, 128, 21],
    });
    expect(await answers('mix-listen', { seen: [1, 128, 21], fine: [1, 80, 21] })).toEqual({
      lean: [1, 21, 300],
      heads: [1, 21, 6],
    });
  }, 120_000);

  test('what is lacking is said in a sentence', () => {
    const fails = (...args: string[]) =>
      spawnSync(PYTHON!, ['pack.py', ...args], { cwd: TRAINING, encoding: 'utf8' }).stderr;
    expect(fails('--ssvd', at('ssvd'), '--out', at('other'))).toContain('need --tracks');
    expect(fails('--karaoke-voices', at('other'))).toContain('--karaoke-voices needs --mir1k');
  });
});
