/** Frames of FLAC → samples, by a decoder that is kept for the frames to come, of this recording and the next. */
import type { FLACDecoder } from '@wasm-audio-decoders/flac';
import type { PcmBlock } from './open-audio.js';
import { quietly } from './quiet.js';

/** Bytes of frames a step: about half a second of common FLAC, so that blocks stay small. */
const STEP_BYTES = 32_768;

/**
 * A frame needs nothing of those before it (RFC 9639, section 9), so one decoder serves any number of recordings. One made
 * anew for each would leave 17 MB of WebAssembly memory behind, and V8 sweeps the whole heap for every 64 MB of such memory.
 */
let kept: FLACDecoder | null = null;

/**
 * The sound of whole frames, in order, some at a time. Frames that the decoder takes for damaged give no block: what is
 * missing shows in the length. The decoder is let go after them, as nobody knows what they have left in it.
 */
export async function* decodeFlacFrames(frames: readonly Uint8Array[]): AsyncGenerator<PcmBlock> {
  for (const step of steps(frames)) {
    const decoder = kept ?? (await newDecoder());
    // Taken away while it works: another recording may be decoded at the same time.
    kept = null;
    const decoded = await quietly(() => decoder.decodeFrames(step)).catch(() => null);
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

/** Neighbouring frames, `STEP_BYTES` or a little more together. */
function* steps(frames: readonly Uint8Array[]): Generator<Uint8Array[]> {
  let step: Uint8Array[] = [];
  let bytes = 0;
  for (const frame of frames) {
    step.push(frame);
    bytes += frame.length;
    if (bytes < STEP_BYTES) continue;
    yield step;
    step = [];
    bytes = 0;
  }
  if (step.length > 0) yield step;
}
