/**
 * `npm run bench -- [FILE…]`: time and memory of the built program (docs/measured.md). Without a file it makes
 * five minutes of a voice alone and of one with a piano, both stereo at 44.1 kHz, as MP3 (WAV without ffmpeg).
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { wavBytes } from '../../fixtures/maker/wav.js';
import { decodeRecording } from '../../src/audio/decode.js';
import type { Recording } from '../../src/audio/types.js';
import { decideSource } from '../../src/pitch/source.js';
import { trackContours } from '../baseline/contours.js';
import { median } from '../evaluate/note-scores.js';
import { alignTable } from '../evaluate/report.js';
import { isThere, type Run, runNode } from './child.js';
import { mixChannels, RATE, soloChannel } from './song.js';

const PROGRAM = join(import.meta.dirname, '../../bin/cantilena.js');
const RUNS = 5;
const SONG_SECONDS = 300;
/** The baseline is timed on so much of a recording: it is slow. */
const BASELINE_SECONDS = 30;

async function runs(args: readonly string[], count: number): Promise<Run[]> {
  const done: Run[] = [];
  for (let i = 0; i < count; i++) {
    const run = await runNode([PROGRAM, ...args]);
    if (run.status !== 0) {
      throw new Error(`cantilena ${args.join(' ')} ended with ${run.status}: ${run.errors.trim()}`);
    }
    done.push(run);
  }
  return done;
}

function medianSeconds(done: readonly Run[]): number {
  return median(done.map((r) => r.seconds)) ?? 0;
}

function peak(done: readonly Run[]): string {
  const known = done.flatMap((r) => (r.peakMegabytes === null ? [] : [r.peakMegabytes]));
  return known.length === 0 ? 'not told' : Math.max(...known).toFixed(0);
}

/** Seconds that the contour tracker of essentia.js takes, over the length of what it was given. */
async function baselineShare(recording: Recording): Promise<number> {
  const samples = recording.samples.subarray(0, BASELINE_SECONDS * recording.sampleRate);
  // Once on a little, so that loading is not timed.
  await trackContours(
    { ...recording, samples: samples.subarray(0, recording.sampleRate) },
    { lowestMidi: 43, highestMidi: 84 },
  );
  const begun = performance.now();
  await trackContours({ ...recording, samples }, { lowestMidi: 43, highestMidi: 84 });
  return (performance.now() - begun) / 1000 / (samples.length / recording.sampleRate);
}

/** Writes the song as stereo WAV, and as MP3 in place of it where ffmpeg makes one. */
function writeSong(path: string, channels: readonly Float64Array[], canMp3: boolean): string {
  const wav = `${path}.wav`;
  writeFileSync(wav, wavBytes(channels, { sampleRate: RATE, bits: 16 }));
  if (!canMp3) return wav;
  const mp3 = `${path}.mp3`;
  const made = spawnSync('ffmpeg', ['-v', 'error', '-i', wav, '-b:a', '128k', mp3]);
  return made.status === 0 ? mp3 : wav;
}

function makeInputs(folder: string): string[] {
  const canMp3 = isThere('ffmpeg', '-version');
  if (!canMp3) console.error('WAV in place of MP3, as there is no ffmpeg to make it');
  const solo = soloChannel(SONG_SECONDS);
  return [
    writeSong(join(folder, 'solo'), [solo, solo], canMp3),
    writeSong(join(folder, 'mix'), mixChannels(SONG_SECONDS), canMp3),
  ];
}

async function measure(path: string): Promise<string[]> {
  const recording = await decodeRecording(readFileSync(path), path);
  const length = recording.samples.length / recording.sampleRate;
  const done = await runs(['notes', path, '--json'], RUNS);
  const share = medianSeconds(done) / length;
  const baseline = await baselineShare(recording);
  return [
    basename(path),
    decideSource(recording).source,
    length.toFixed(1),
    medianSeconds(done).toFixed(2),
    share.toFixed(4),
    peak(done),
    baseline.toFixed(3),
    (share / baseline).toFixed(2),
  ];
}

async function run(files: readonly string[]): Promise<void> {
  const help = await runs(['--help'], RUNS);
  console.log(`start-up (--help): median ${medianSeconds(help).toFixed(3)} s, peak ${peak(help)} MB\n`);
  const folder = files.length === 0 ? mkdtempSync(join(tmpdir(), 'cantilena-bench-')) : null;
  try {
    const rows: string[][] = [];
    for (const path of folder === null ? files : makeInputs(folder)) rows.push(await measure(path));
    console.log(
      alignTable(['file', 'heard as', 's', 'median s', 'share', 'peak MB', 'baseline', 'ratio'], rows),
    );
    console.log(
      `\nshare: median of ${RUNS} runs of \`notes --json\`, start-up, decoding and deciding what it is included, over the length.\n` +
        `baseline: the contour tracker of essentia.js on the first ${BASELINE_SECONDS} s, decoding not included.`,
    );
  } finally {
    if (folder !== null) rmSync(folder, { recursive: true, force: true });
  }
}

try {
  await run(process.argv.slice(2));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
}
