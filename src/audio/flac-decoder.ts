/** Frames of FLAC → samples, by a decoder that is kept for the next recording. */
import type { FLACDecoder } from '@wasm-audio-decoders/flac';
import type { PcmBlock } from './open-audio.js';
import { quietly } from './quiet.js';

/**
 * A frame needs nothing of those before it (RFC 9639, section 9), so one decoder serves any number of recordings. One made
 * anew for each would leave 17 MB of WebAssembly memory behind, and V8 sweeps the whole heap for every 64 MB of such memory.
 */
let kept: FLACDecoder | null = null;

export interface FlacDecoder {
  /** The sound of a whole frame; null for one that is taken for damaged. */
  decode(frame: Uint8Array): Promise<PcmBlock | null>;
  /** After the last frame: kept, unless a frame was damaged, as nobody knows what it has left there. */
  giveBack(): void;
}

/** A decoder for one recording: the one that is kept, or another while that is at work. */
export async function takeFlacDecoder(): Promise<FlacDecoder> {
  const held = kept;
  kept = null;
  const decoder = held ?? (await newDecoder());
  let clean = true;
  return {
    async decode(frame) {
      // What it says on the console, it says before it returns its promise.
      const decoded = await quietly(() => decoder.decodeFrames([frame])).catch(() => null);
      clean &&= decoded?.errors.length === 0;
      return decoded?.channelData[0]?.length
        ? { sampleRate: decoded.sampleRate, channels: decoded.channelData }
        : null;
    },
    giveBack() {
      if (clean) kept = decoder;
    },
  };
}

async function newDecoder(): Promise<FLACDecoder> {
  const { FLACDecoder } = await import('@wasm-audio-decoders/flac');
  const decoder = new FLACDecoder();
  await decoder.ready;
  return decoder;
}
