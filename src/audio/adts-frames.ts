/** Raw AAC streams: ADTS frames and the packets in them. Source: ISO/IEC 14496-3 (2009), 1.A.2.2. */
import type { Packet } from './aac-packets.js';

/** Sampling frequency index, ISO/IEC 14496-3 table 1.18. */
const RATES = [
  96_000, 88_200, 64_000, 48_000, 44_100, 32_000, 24_000, 22_050, 16_000, 12_000, 11_025, 8000, 7350,
];
/** Samples a channel in one raw data block. */
const BLOCK_SAMPLES = 1024;
/** Frames that must follow each other before a position counts as a start. */
const CHAIN = 3;

interface AdtsFrame {
  /** Length with the header. */
  readonly bytes: number;
  readonly headerBytes: number;
  readonly rateIndex: number;
  /**
   * AudioSpecificConfig for the packet, ISO/IEC 14496-3 1.6.2.1. It ends with "no spectral band replication"
   * (sync extension 0x2b7, type 5, flag 0): otherwise low rates would come out doubled and later. The core that
   * is left reaches up to the file's Nyquist frequency or the replicated band, far above any sung pitch.
   */
  readonly asc: Uint8Array;
}

function frameAt(bytes: Uint8Array, at: number): AdtsFrame | null {
  if (at + 7 > bytes.length || bytes[at] !== 0xff || (bytes[at + 1]! & 0xf6) !== 0xf0) return null;
  const objectType = (bytes[at + 2]! >> 6) + 1;
  const rateIndex = (bytes[at + 2]! >> 2) & 15;
  const channelConfig = ((bytes[at + 2]! & 1) << 2) | (bytes[at + 3]! >> 6);
  const length = ((bytes[at + 3]! & 3) << 11) | (bytes[at + 4]! << 3) | (bytes[at + 5]! >> 5);
  const headerBytes = (bytes[at + 1]! & 1) === 1 ? 7 : 9;
  if (RATES[rateIndex] === undefined || length <= headerBytes) return null;
  const config = (objectType << 11) | (rateIndex << 7) | (channelConfig << 3);
  return {
    bytes: length,
    headerBytes,
    rateIndex,
    asc: Uint8Array.of(config >> 8, config & 0xff, 0x56, 0xe5, 0x00),
  };
}

/** True when whole ADTS frames follow each other from `from`, to the end of the file where there are few. */
export function isAdts(bytes: Uint8Array, from: number): boolean {
  let at = from;
  for (let count = 0; count < CHAIN; count++) {
    const frame = frameAt(bytes, at);
    if (frame === null) return count > 0 && at >= bytes.length;
    if (at + frame.bytes > bytes.length) return count > 0;
    at += frame.bytes;
  }
  return true;
}

/** The decoder's configuration by the first frame of `bytes`, which must be one. */
export function adtsConfig(bytes: Uint8Array): Uint8Array {
  return frameAt(bytes, 0)!.asc;
}

/**
 * The packets of the stream. Nothing in it says how long the encoder's run-up is; the first packet is taken as
 * that (common practice of AAC encoders) and lies before time 0. Bytes that are no frame are skipped.
 */
export function* adtsPackets(bytes: Uint8Array): Generator<Packet> {
  const first = frameAt(bytes, 0)!;
  const duration = BLOCK_SAMPLES / RATES[first.rateIndex]!;
  let timestamp = -duration;
  for (let at = 0; at < bytes.length; ) {
    const frame = frameAt(bytes, at);
    if (frame === null || frame.rateIndex !== first.rateIndex || at + frame.bytes > bytes.length) {
      at++;
      continue;
    }
    yield { data: bytes.subarray(at + frame.headerBytes, at + frame.bytes), timestamp, duration };
    timestamp += duration;
    at += frame.bytes;
  }
}
