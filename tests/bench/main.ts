/**
 * `npm run bench -- [FILE…]`: time and memory of the built program, or of that named by BENCH_PROGRAM
 * (docs/measured.md). Without a file it makes five minutes of a voice alone and of one with a piano, both stereo at
 * 44.1 kHz, as MP3 (WAV without ffmpeg).
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { wavBytes } from '../../fixtures/maker/wav.js';
import { decodeRecording } from '../../src/audio/decode.js';
import { packedPart } from '../../src/dsp/packed.js';
import { defaultHearOptions } from '../../src/pipeline/options.js';
import { trackMix } from '../../src/pitch/mix.js';
import { trackSolo } from '../../src/pitch/solo.js';
import { decideSource } from '../../src/pitch/source.js';
import { midiToHz } from '../../src/units.js';
import { trackContours } from '../baseline/contours.js';
import { median } from '../evaluate/note-scores.js';
import { alignTable } from '../evaluate/report.js';
import { isThere, runNode } from './child.js';
import { mixChannels, RATE, soloChannel } from './song.js';

const PROGRAM = process.env.BENCH_PROGRAM ?? join(import.meta.dirname, '../../bin/cantilena.js');
const ROUNDS = 5;
const SONG_SECONDS = 300;
/** Both trackers are timed on so much of a recording, the length of a song: in less, ours has not warmed up. */
const BASELINE_SECONDS = 240;
/** Pitches that the baseline looks for: G2 to C6. */
const BASELINE_RANGE = { lowestMidi: 43, highestMidi: 84 };

/** What one thing took, once or in the median: wall-clock and processor seconds, and the largest memory. */
interface Cost {
  readonly seconds: number;
  readonly cpuSeconds: number;
  readonly peakMegabytes: number | null;
}

async function runProgram(args: readonly string[]): Promise<Cost> {
  const { status, errors, seconds, cpuSeconds, peakMegabytes } = await runNode([PROGRAM, ...args]);
  if (status !== 0) throw new Error(`cantilena ${args.join(' ')} ended with ${status}: ${errors.trim()}`);
  return { seconds, cpuSeconds: cpuSeconds ?? Number.NaN, peakMegabytes };
}

/** Takes the time of some work in this process. */
async function timed(work: () => Promise<unknown>): Promise<Cost> {
  const cpu = process.cpuUsage();
  const begun = performance.now();
  await work();
  const seconds = (performance.now() - begun) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  return { seconds, cpuSeconds: (user + system) / 1e6, peakMegabytes: null };
}

/** Each of the works in turn, ROUNDS times over, so that a busy hour falls on all alike; their medians. */
async function inTurns(works: readonly (() => Promise<Cost>)[]): Promise<Cost[]> {
  const rounds: Cost[][] = [];
  for (let i = 0; i < ROUNDS; i++) {
    const round: Cost[] = [];
    for (const work of works) round.push(await work());
    rounds.push(round);
  }
  return works.map((_, k) => {
    const costs = rounds.map((round) => round[k]!);
    const known = costs.flatMap(({ peakMegabytes }) => (peakMegabytes === null ? [] : [peakMegabytes]));
    return {
      seconds: median(costs.map(({ seconds }) => seconds)) ?? 0,
      cpuSeconds: median(costs.map(({ cpuSeconds }) => cpuSeconds)) ?? 0,
      peakMegabytes: known.length === 0 ? null : Math.max(...known),
    };
  });
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

/** The rows of one recording: the program without and with all its files, its tracker, and the tracker of essentia.js. */
async function measure(path: string, outFolder: string): Promise<string[][]> {
  const recording = await decodeRecording(readFileSync(path), path, { side: true });
  const part = {
    ...recording,
    samples: recording.samples.subarray(0, BASELINE_SECONDS * recording.sampleRate),
    side: recording.side
      ? packedPart(
          recording.side,
          0,
          Math.min(BASELINE_SECONDS * recording.sampleRate, recording.side.length),
        )
      : null,
  };
  const { source } = decideSource(recording);
  const { lowestMidi, highestMidi } = defaultHearOptions(source);
  const ours = () =>
    source === 'mix'
      ? trackMix(part, { lowestMidi, highestMidi, side: part.side })
      : trackSolo(part, { lowestHz: midiToHz(lowestMidi), highestHz: midiToHz(highestMidi) });
  const theirs = () => trackContours(part, BASELINE_RANGE);
  // Once before, so that loading is not timed.
  await Promise.all([ours(), theirs()]);
  const all = ['notes', path, '--out', outFolder, '--force', '--quiet'];
  const length = recording.samples.length / recording.sampleRate;
  const partLength = part.samples.length / part.sampleRate;
  const works: readonly [what: string, seconds: number, work: () => Promise<Cost>][] = [
    ['notes --json', length, () => runProgram(['notes', path, '--json'])],
    ['notes --out, all files', length, () => runProgram(all)],
    ['… our tracker alone', partLength, () => timed(ours)],
    ['… essentia.js, contours alone', partLength, () => timed(theirs)],
  ];
  const costs = await inTurns(works.map(([, , work]) => work));
  const baseline = costs.at(-1)!.cpuSeconds / partLength;
  return works.map(([what, seconds], k) => {
    const cost = costs[k]!;
    return [
      k === 0 ? `${basename(path)} (${source}, ${length.toFixed(0)} s)` : '',
      what,
      cost.seconds.toFixed(2),
      cost.cpuSeconds.toFixed(2),
      (cost.seconds / seconds).toFixed(4),
      (cost.cpuSeconds / seconds).toFixed(4),
      cost.peakMegabytes?.toFixed(0) ?? '',
      (cost.cpuSeconds / seconds / baseline).toFixed(2),
    ];
  });
}

async function run(files: readonly string[]): Promise<void> {
  const starts = [['--help'], ['scales', ...'FGACD']];
  const started = await inTurns(starts.map((args) => () => runProgram(args)));
  starts.forEach((args, k) => {
    const { seconds, cpuSeconds, peakMegabytes } = started[k]!;
    const peak = peakMegabytes === null ? '' : `, peak ${peakMegabytes.toFixed(0)} MB`;
    console.log(`${args.join(' ')}: ${seconds.toFixed(3)} s, processor ${cpuSeconds.toFixed(3)} s${peak}`);
  });
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-bench-'));
  try {
    const rows: string[][] = [];
    for (const path of files.length === 0 ? makeInputs(folder) : files) {
      rows.push(...(await measure(path, join(folder, 'out'))));
    }
    const heads = [
      'file',
      'what',
      'wall s',
      'cpu s',
      'wall/length',
      'cpu/length',
      'peak MB',
      'to essentia.js',
    ];
    console.log(`\n${alignTable(heads, rows)}`);
    console.log(
      `\nMedians of ${ROUNDS} rounds, all of them in turns. cpu: user and system time of all threads, which another\n` +
        'program beside changes little; wall: what a clock shows. Start-up and decoding are in the first two rows of a\n' +
        `file; the trackers have the first ${BASELINE_SECONDS} s, decoded. The last column is by cpu/length.`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

try {
  await run(process.argv.slice(2));
} catch (error) {
  console.error(error instanceof Error ? error.message : String(error));
  process.exitCode = 1;
}
