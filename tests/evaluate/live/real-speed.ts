/** The program itself, as a process, fed at the speed of the sound. */
import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { decodeRecording } from '../../../src/audio/decode.js';
import type { LiveEvent } from '../../../src/practice/listen/live-notes.js';
import type { Said } from './report.js';

const BIN = resolve(import.meta.dirname, '../../../bin/cantilena.js');
const BLOCK_SECONDS = 0.02;

/** Sends a recording through `listen - --raw` block by block as its time passes, and notes when each line is said. */
export async function atRealSpeed(path: string): Promise<Said[]> {
  const { samples, sampleRate } = await decodeRecording(readFileSync(path), path, { side: false });
  const child = spawn(process.execPath, [BIN, 'listen', '-', '--raw', String(sampleRate)], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const said: Said[] = [];
  const lines = createInterface(child.stdout);
  // Half a second of silence first: the program starts in it.
  const silenceSeconds = 0.5;
  const begun = performance.now() / 1000 + silenceSeconds;
  lines.on('line', (line) => {
    said.push({ ...(JSON.parse(line) as LiveEvent), saidSeconds: performance.now() / 1000 - begun });
  });
  const blockSamples = Math.round(BLOCK_SECONDS * sampleRate);
  const silence = Math.round(silenceSeconds / BLOCK_SECONDS);
  for (let block = -silence; block * blockSamples < samples.length; block++) {
    // A block is there once its last sample was made.
    const due = begun + (block + 1) * BLOCK_SECONDS;
    const left = due - performance.now() / 1000;
    if (left > 0) await wait(1000 * left);
    const part =
      block < 0
        ? new Float32Array(blockSamples)
        : samples.subarray(block * blockSamples, (block + 1) * blockSamples);
    child.stdin.write(Buffer.from(Int16Array.from(part, (x) => Math.round(32_767 * x)).buffer));
  }
  child.stdin.end();
  await new Promise((done) => {
    child.on('close', done);
  });
  return said;
}
