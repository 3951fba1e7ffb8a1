/** The decoders that take any piece of a file and give what they could decode of it so far. */
import type { PcmBlock } from './open-audio.js';
import { quietly } from './quiet.js';

interface Decoded {
  readonly channelData: readonly Float32Array[];
  readonly sampleRate: number;
}

export interface ByteDecoder {
  decode(data: Uint8Array): Decoded;
  flush?(): Decoded;
  free(): void;
}

/** Bytes a step: about two seconds of a common MP3, so that blocks stay small. */
const STEP_BYTES = 32_768;

/**
 * Feeds a file to a fresh decoder step by step. The decoders report damage by an exception at most, and may go on
 * afterwards: a step that throws is skipped; what is missing shows in the length.
 */
export async function* decodeByteStream(
  bytes: Uint8Array,
  createDecoder: () => Promise<ByteDecoder>,
): AsyncGenerator<PcmBlock> {
  const decoder = await createDecoder();
  try {
    for (let at = 0; at < bytes.length; at += STEP_BYTES) {
      yield* blockOf(() => decoder.decode(bytes.subarray(at, at + STEP_BYTES)));
    }
    yield* blockOf(() => decoder.flush?.() ?? { channelData: [], sampleRate: 0 });
  } finally {
    decoder.free();
  }
}

function blockOf(decode: () => Decoded): PcmBlock[] {
  try {
    const { channelData, sampleRate } = quietly(decode);
    return channelData.length > 0 && channelData[0]!.length > 0
      ? [{ sampleRate, channels: channelData }]
      : [];
  } catch {
    return [];
  }
}
