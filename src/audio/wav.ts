/**
 * WAV: wav-decoder turns samples into floats, and gets only what it reads rightly.
 *
 * wav-decoder 1.3.0 hangs on 0 channels, throws on WAVE_FORMAT_EXTENSIBLE, RF64 and padded odd chunks, reads
 * nothing where the size is 0, turns the lowest 24-bit value into the highest, and leaves half a step of
 * constant offset in symmetric 8-bit. So the chunks are walked here (wav-layout.ts), and each block of samples
 * is given to it under a plain header of our own as 16-bit, 32-bit, float 32 or float 64; 8-bit, A-law and
 * µ-law become 16-bit first and 24-bit becomes 32-bit, which changes no value. Blocks keep memory small.
 */
import wavDecoder from 'wav-decoder';
import { LAW_TABLES } from './companding.js';
import type { OpenAudio, PcmBlock } from './open-audio.js';
import { WAV_HEADER_BYTES, writeWavHeader } from './wav-header.js';
import { readWavLayout, type WavLayout } from './wav-layout.js';

/** How stored samples are written. */
export type PcmCoding = Pick<WavLayout, 'format' | 'bits' | 'channels' | 'sampleRate'>;

/** Samples of all channels together in one block: 256 KB of 32-bit samples. */
const BLOCK_SAMPLES = 65_536;

export function openWav(bytes: Uint8Array, label: string): OpenAudio {
  const layout = readWavLayout(bytes, label);
  const bytesPerSecond = layout.sampleRate * layout.channels * (layout.bits / 8);
  return {
    container: layout.container,
    claimedSeconds:
      layout.claimedBytes === null || bytesPerSecond === 0 ? null : layout.claimedBytes / bytesPerSecond,
    ...(bytesPerSecond === 0 ? {} : { heldSeconds: layout.data.length / bytesPerSecond }),
    unboundedPeaks: layout.format === 'float',
    blocks: () => blocksOf(layout),
  };
}

async function* blocksOf(layout: WavLayout): AsyncGenerator<PcmBlock> {
  const sampleBytes = layout.bits / 8;
  const blockBytes = Math.max(1, Math.floor(BLOCK_SAMPLES / layout.channels)) * layout.channels * sampleBytes;
  for (let at = 0; at < layout.data.length; at += blockBytes) {
    yield pcmBlock(layout, layout.data.subarray(at, at + blockBytes));
  }
}

/** Stored samples as floats. `content` holds whole frames, written as `coding` says. */
export function pcmBlock(coding: PcmCoding, content: Uint8Array): PcmBlock {
  const file = withHeader(coding, plainSamples(coding, content));
  return {
    sampleRate: coding.sampleRate,
    channels: wavDecoder.decode.sync(file, { symmetric: true }).channelData,
  };
}

interface PlainSamples {
  readonly bits: number;
  readonly content: Uint8Array;
}

/** The same values in a width that wav-decoder reads exactly. */
function plainSamples(layout: PcmCoding, content: Uint8Array): PlainSamples {
  if (layout.format === 'alaw' || layout.format === 'mulaw') {
    const table = LAW_TABLES[layout.format];
    return {
      bits: 16,
      content: bytesOf(Int16Array.from(content, (code) => table[code]!)),
    };
  }
  if (layout.bits === 8)
    return {
      bits: 16,
      content: bytesOf(Int16Array.from(content, (value) => (value - 128) * 256)),
    };
  if (layout.bits === 24) {
    const widened = new Uint8Array((content.length / 3) * 4);
    for (let from = 0, to = 0; from < content.length; from += 3, to += 4) {
      widened[to + 1] = content[from]!;
      widened[to + 2] = content[from + 1]!;
      widened[to + 3] = content[from + 2]!;
    }
    return { bits: 32, content: widened };
  }
  return { bits: layout.bits, content };
}

/** The bytes of 16-bit samples, lowest first whatever the machine. */
function bytesOf(samples: Int16Array): Uint8Array {
  const out = new Uint8Array(2 * samples.length);
  const view = new DataView(out.buffer);
  for (let i = 0; i < samples.length; i++) view.setInt16(2 * i, samples[i]!, true);
  return out;
}

function withHeader(layout: PcmCoding, { bits, content }: PlainSamples): ArrayBuffer {
  const file = new Uint8Array(WAV_HEADER_BYTES + content.length);
  file.set(content, WAV_HEADER_BYTES);
  writeWavHeader(
    file,
    {
      float: layout.format === 'float',
      bits,
      channels: layout.channels,
      sampleRate: layout.sampleRate,
    },
    content.length,
  );
  return file.buffer;
}
