import { readFileSync } from 'node:fs';
import { decodeBlocks, decodeRecording } from '../../src/audio/decode.js';
import { ANALYSIS_RATE } from '../../src/audio/types.js';
import { createResampler } from '../../src/dsp/resample.js';

interface FileChannel {
  readonly path: string;
  /** Number of the channel to take, or null for the mean of all. */
  readonly channel: number | null;
}

/** Samples at ANALYSIS_RATE. */
export async function decodeFile({ path, channel }: FileChannel): Promise<Float32Array> {
  const bytes = readFileSync(path);
  if (channel === null) return (await decodeRecording(bytes, path)).samples;
  const parts: Float32Array[] = [];
  let resampler: ReturnType<typeof createResampler> | null = null;
  for await (const block of decodeBlocks(bytes, path)) {
    resampler ??= createResampler(block.sampleRate, ANALYSIS_RATE);
    if (block.channels[channel] === undefined) throw new Error(`${path} has no channel ${channel + 1}.`);
    parts.push(resampler.push(block.channels[channel]));
  }
  if (resampler === null) throw new Error(`${path} holds no sound.`);
  parts.push(resampler.finish());
  const samples = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    samples.set(part, at);
    at += part.length;
  }
  return samples;
}
