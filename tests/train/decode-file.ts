import { readFileSync } from 'node:fs';
import { decodeBlocks, decodeRecording } from '../../src/audio/decode.js';
import { ANALYSIS_RATE } from '../../src/audio/types.js';
import { createResampler } from '../../src/dsp/resample.js';
import type { TrainingFile } from './sources.js';

/** Samples at ANALYSIS_RATE, of one channel or of the mean of all. */
export async function decodeFile({
  path,
  channel,
}: Pick<TrainingFile, 'path' | 'channel'>): Promise<Float32Array> {
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
