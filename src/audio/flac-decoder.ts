/** Frames of FLAC → samples, by a decoder that is kept for the frames to come, of this recording and the next. */
import type { FLACDecoder } from '@wasm-audio-decoders/flac';
import type { PcmBlock } from './open-audio.js';
import { quietly } from './quiet.js';

/**
 * A frame needs nothing of those before it (RFC 9639, section 9), so one decoder serves any number of recordings. One made
 * anew for each would leave 17 MB of WebAssembly memory behind, and V8 sweeps the whole heap for every 64 MB of such memory.
 */
let kept: FLACDecoder | null = null;

/**
 * The sound of whole frames, one at a time: a few bytes may be 65,535 samples of silence. A frame that the decoder takes
 * for damaged gives no block: what is missing shows in the length. The decoder is let go after it, as nobody knows what it
 * has left there.
 */
export async function* decodeFlacFrames(frames: readonly Uint8Array[]): AsyncGenerator<PcmBlock> {
  for (const frame of frames) {
    const decoder = kept ?? (await newDecoder());
    // Taken away while it works: another recording may be decoded at the same time.
    kept = null;
    // What it says on the console, it says before it returns its promise.
    const decoded = await quietly(() => decoder.decodeFrames([frame])).catch(() => null);
    if (decoded === null) continue;
    const { channelData, sampleRate, errors } = decoded;
    if (errors.length === 0) kept = decoder;
    else decoder.free();
    if ((channelData[0]?.length ?? 0) > 0) yield { sampleRate, channels: channelData };
  }
}

async function newDecoder(): Promise<FLACDecoder> {
  const { FLACDecoder } = await import('@wasm-audio-decoders/flac');
  const decoder = new FLACDecoder();
  await decoder.ready;
  return decoder;
}
