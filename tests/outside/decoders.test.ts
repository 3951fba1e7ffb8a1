/**
 * Our decoding against ffmpeg's own PCM of the same files, and against the signal that went in: a click of known
 * time, encoded and decoded, must come out at that time. ffmpeg also makes the files. Where it is absent every
 * test is skipped and its title says so.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { decodeBlocks, decodeRecording } from '../../src/audio/decode.js';

const present = spawnSync('ffmpeg', ['-version']).status === 0;
const title = present ? 'against ffmpeg' : 'against ffmpeg (skipped: ffmpeg is not installed)';
const folder = mkdtempSync(join(tmpdir(), 'decoders-'));
afterAll(() => rmSync(folder, { recursive: true }));

const SECONDS = 2;
/** Time of the click: quiet before and after, so that its place can be told after lossy coding. */
const CLICK_SECONDS = 1.25;

/** A sweep from 100 Hz to 3 kHz and a fixed tone for a second, quiet, then a burst of 5 ms at CLICK_SECONDS. */
function signal(rate: number, channel: number): Float32Array {
  return Float32Array.from({ length: SECONDS * rate }, (_, i) => {
    const t = i / rate;
    if (t < 1)
      return (
        0.3 * Math.sin(2 * Math.PI * (100 * t + 1450 * t * t)) +
        0.1 * Math.sin(2 * Math.PI * (330 + 220 * channel) * t)
      );
    const since = t - CLICK_SECONDS;
    return since >= 0 && since < 0.005 ? 0.8 * Math.cos(2 * Math.PI * 2000 * since) : 0;
  });
}

function encode(rate: number, channels: number, name: string, options: readonly string[]): string {
  const parts = Array.from({ length: channels }, (_, channel) => signal(rate, channel));
  const raw = new Float32Array(SECONDS * rate * channels);
  for (let i = 0; i < raw.length; i++) raw[i] = parts[i % channels]![Math.floor(i / channels)]!;
  const file = join(folder, `${rate}-${channels}-${name}`);
  writeFileSync(`${file}.raw`, Buffer.from(raw.buffer));
  const input = ['-f', 'f32le', '-ar', `${rate}`, '-ac', `${channels}`, '-i', `${file}.raw`];
  execFileSync('ffmpeg', ['-v', 'error', '-y', ...input, ...options, file]);
  return file;
}

/** ffmpeg's own samples, one array a channel. */
function theirs(file: string, channels: number, decoder: readonly string[]): Float32Array[] {
  const raw = execFileSync('ffmpeg', ['-v', 'error', ...decoder, '-i', file, '-f', 'f32le', '-'], {
    maxBuffer: 2 ** 28,
  });
  const samples = new Float32Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.byteLength));
  return Array.from({ length: channels }, (_, c) => samples.filter((_, i) => i % channels === c));
}

async function ours(file: string, channels: number): Promise<Float32Array[]> {
  const parts: number[][] = Array.from({ length: channels }, () => []);
  for await (const block of decodeBlocks(new Uint8Array(readFileSync(file)), file)) {
    expect(block.channels).toHaveLength(channels);
    block.channels.forEach((channel, c) => {
      for (const value of channel) parts[c]!.push(value);
    });
  }
  return parts.map((part) => Float32Array.from(part));
}

/** Signal-to-noise ratio in decibels of `mine` shifted by `lag` samples against `reference`. */
function snrDb(mine: Float32Array, reference: Float32Array, lag: number): number {
  let power = 0;
  let noise = 0;
  for (let i = 3000; i < Math.min(mine.length, reference.length) - 3000; i++) {
    power += reference[i]! ** 2;
    noise += (mine[i + lag]! - reference[i]!) ** 2;
  }
  return 10 * Math.log10(power / noise);
}

interface Case {
  readonly name: string;
  readonly options: readonly string[];
  readonly rates: readonly number[];
  /** Least SNR against ffmpeg's samples: exact for lossless, near the rounding of 16 bits where ffmpeg rounds. */
  readonly leastDb: number;
  /** Samples that ours starts later in the stream than ffmpeg's. */
  readonly ahead?: number;
  /** Greatest error in the time of the click, in milliseconds. */
  readonly clickMs: number;
  readonly decoder?: readonly string[];
}

const ALL_RATES = [8000, 22_050, 44_100, 48_000, 96_000];
const wav = (name: string, codec: string): Case => ({
  name: `${name}.wav`,
  options: ['-c:a', codec],
  rates: [44_100],
  leastDb: 140,
  clickMs: 1,
});

const CASES: readonly Case[] = [
  // ffmpeg writes 24 and 32 bits, float and more than two channels as WAVE_FORMAT_EXTENSIBLE.
  wav('8', 'pcm_u8'),
  { ...wav('16', 'pcm_s16le'), rates: ALL_RATES },
  wav('24', 'pcm_s24le'),
  wav('32', 'pcm_s32le'),
  wav('float', 'pcm_f32le'),
  wav('double', 'pcm_f64le'),
  wav('alaw', 'pcm_alaw'),
  wav('mulaw', 'pcm_mulaw'),
  { ...wav('rf64', 'pcm_s16le'), options: ['-c:a', 'pcm_s16le', '-rf64', 'always'], rates: [44_100] },
  // libFLAC's samples come divided by 32767 where positive: 90 dB.
  {
    name: 'x.flac',
    options: ['-c:a', 'flac', '-sample_fmt', 's16'],
    rates: ALL_RATES,
    leastDb: 85,
    clickMs: 1,
  },
  {
    name: 'x.mp3',
    options: ['-c:a', 'libmp3lame', '-b:a', '64k'],
    rates: [8000, 22_050, 44_100, 48_000],
    leastDb: 90,
    clickMs: 2,
  },
  { name: 'vbr.mp3', options: ['-c:a', 'libmp3lame', '-q:a', '4'], rates: [44_100], leastDb: 90, clickMs: 2 },
  { name: 'x.ogg', options: ['-c:a', 'libvorbis', '-q:a', '5'], rates: ALL_RATES, leastDb: 90, clickMs: 2 },
  // Against libopus: ffmpeg's own Opus decoder differs from it by two samples in its speech mode.
  {
    name: 'x.opus',
    options: ['-c:a', 'libopus', '-b:a', '64k'],
    rates: [8000, 48_000],
    leastDb: 80,
    clickMs: 2,
    decoder: ['-c:a', 'libopus'],
  },
  {
    name: 'x.m4a',
    options: ['-c:a', 'aac', '-b:a', '96k'],
    rates: [8000, 22_050, 44_100, 48_000, 96_000],
    leastDb: 40,
    clickMs: 2,
  },
  {
    name: 'front.m4a',
    options: ['-c:a', 'aac', '-b:a', '96k', '-movflags', 'faststart'],
    rates: [44_100],
    leastDb: 40,
    clickMs: 2,
  },
  // Fragmented by ffmpeg, a file has no edit list: its own time counts the run-up of 1024 samples (23 ms).
  {
    name: 'fragments.m4a',
    options: [
      '-c:a',
      'aac',
      '-b:a',
      '96k',
      '-movflags',
      'frag_keyframe+empty_moov',
      '-frag_duration',
      '300000',
    ],
    rates: [44_100],
    leastDb: 40,
    clickMs: 24,
  },
  { name: 'lossless.m4a', options: ['-c:a', 'alac'], rates: [44_100], leastDb: 140, clickMs: 1 },
  // Raw AAC does not tell its run-up; ours takes off the first packet, ffmpeg nothing.
  {
    name: 'x.aac',
    options: ['-c:a', 'aac', '-b:a', '96k'],
    rates: [22_050, 44_100],
    leastDb: 40,
    clickMs: 2,
    ahead: 1024,
  },
];

describe.skipIf(!present)(title, () => {
  for (const { name, options, rates, leastDb, clickMs, ahead = 0, decoder = [] } of CASES) {
    for (const rate of rates) {
      // Both numbers of channels at the commonest rates, one elsewhere: each case starts ffmpeg twice.
      for (const channels of rate === 44_100 || rate === 48_000 ? [1, 2] : [1]) {
        test(`${name} at ${rate} Hz, ${channels} channel${channels > 1 ? 's' : ''}: same samples, same time`, async () => {
          const file = encode(rate, channels, name, options);
          const mine = await ours(file, channels);
          const reference = theirs(file, channels, decoder);
          for (let c = 0; c < channels; c++) {
            const atLag = [-2, -1, 0, 1, 2].map((shift) => snrDb(mine[c]!, reference[c]!, shift - ahead));
            expect(atLag[2]).toBeGreaterThan(leastDb);
            expect(atLag[2]).toBe(Math.max(...atLag));
          }

          const { samples, source } = await decodeRecording(new Uint8Array(readFileSync(file)), file);
          expect(source.warnings).toEqual([]);
          expect(Math.abs(burstSeconds(samples) - CLICK_SECONDS) * 1000).toBeLessThan(clickMs);
        });
      }
    }
  }
});

/** Start of the burst: where the burst itself, as it was made at 16 kHz, fits best within 100 ms of its place. */
function burstSeconds(samples: Float32Array): number {
  const burst = signal(16_000, 0).slice(CLICK_SECONDS * 16_000, (CLICK_SECONDS + 0.005) * 16_000);
  let best = 0;
  let bestAt = 0;
  for (let at = (CLICK_SECONDS - 0.1) * 16_000; at < (CLICK_SECONDS + 0.1) * 16_000; at++) {
    let fit = 0;
    for (let i = 0; i < burst.length; i++) fit += burst[i]! * samples[at + i]!;
    if (fit > best) [best, bestAt] = [fit, at];
  }
  return bestAt / 16_000;
}
