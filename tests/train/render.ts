/**
 * `npx tsx tests/train/render.ts DIR [--count N] [--seed N]`: computes recordings to train on, about 20 s each,
 * and writes them as `NAME.wav` with `NAME.truth.json` into DIR, for `pack.py --made DIR` beside the networks.
 * The voices are those of fixtures/maker, the melodies random walks; the same seed gives the same files.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { gainOfDb } from '../../fixtures/maker/levels.js';
import { perform } from '../../fixtures/maker/perform.js';
import { seededRandom } from '../../fixtures/maker/random.js';
import { truthOf } from '../../fixtures/maker/truth.js';
import { wavBytes } from '../../fixtures/maker/wav.js';
import { trainingPlan } from './performers.js';
import { F0_HOP_SECONDS, soundingPitch } from './sounding-pitch.js';
import { whole } from './whole.js';

/** A recording's level below the fixtures' (peak at −3 dBFS), in decibels: near and far from the microphone. */
const QUIETER_DB = { least: 0, most: 24 };

function renderAll(folder: string, count: number, seed: number): void {
  const random = seededRandom(seed);
  mkdirSync(folder, { recursive: true });
  for (let index = 0; index < count; index++) {
    const plan = trainingPlan(index, random);
    const { channels, notes } = perform(plan);
    const gain = gainOfDb(-random.between(QUIETER_DB.least, QUIETER_DB.most));
    const samples = channels.map((channel) => channel.map((value) => gain * value));
    const f0Hz = soundingPitch(plan, notes, samples[0].length / plan.sampleRate);
    const pitch = f0Hz === null ? {} : { f0HopSeconds: F0_HOP_SECONDS, f0Hz: f0Hz.map((hz) => round(hz)) };
    const file = join(folder, plan.name);
    writeFileSync(`${file}.wav`, wavBytes(samples, { sampleRate: plan.sampleRate, bits: 16 }));
    writeFileSync(`${file}.truth.json`, `${JSON.stringify({ ...truthOf(plan, notes, 0), ...pitch })}\n`);
    console.error(`${plan.name}: ${notes.length} notes`);
  }
}

function round(hz: number): number {
  return Math.round(hz * 100) / 100;
}

try {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { count: { type: 'string', default: '40' }, seed: { type: 'string', default: '1' } },
  });
  const [folder] = positionals;
  if (folder === undefined || positionals.length > 1) {
    throw new Error('Give one folder: npx tsx tests/train/render.ts DIR [--count N] [--seed N]');
  }
  renderAll(folder, whole('--count', values.count, 1, 1000), whole('--seed', values.seed, 0, 2 ** 31 - 1));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 2;
}
