/** FLAC: runs of whole frames go to the decoder, silence stands for the frames between that are damaged. */
import { takeFlacDecoder } from './flac-decoder.js';
import { readFlacLayout } from './flac-frames.js';
import type { OpenAudio, PcmBlock } from './open-audio.js';

/** Longest silence put in for one damaged place, in seconds: a damaged number must not ask for hours. */
const LONGEST_GAP_SECONDS = 10;

export function openFlac(bytes: Uint8Array): OpenAudio {
  const { sampleRate, channels, totalSamples, metadataEnd, runs } = readFlacLayout(bytes);

  async function* blocks(): AsyncGenerator<PcmBlock> {
    // A file cut from a running stream counts from there: where nothing is missing before it, its start is 0.
    let position = runs[0]?.start === metadataEnd ? runs[0].firstSample : 0;
    const decoder = await takeFlacDecoder();
    try {
      for (const run of runs) {
        const gap = Math.min(run.firstSample - position, LONGEST_GAP_SECONDS * sampleRate);
        if (gap > 0) {
          yield {
            sampleRate,
            channels: Array.from({ length: channels }, () => new Float32Array(gap)),
            lost: true,
          };
          position += gap;
        }
        // One at a time: a few bytes may be 65,535 samples of silence.
        for (const frame of run.frames) {
          const block = await decoder.decode(frame);
          if (block === null) continue;
          position += block.channels[0]!.length;
          yield block;
        }
      }
    } finally {
      decoder.giveBack();
    }
  }

  return {
    container: 'flac',
    claimedSeconds: sampleRate === 0 || totalSamples === 0 ? null : totalSamples / sampleRate,
    unboundedPeaks: false,
    blocks,
  };
}
