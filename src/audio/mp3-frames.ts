/**
 * MPEG audio layer III frame headers: where the first frame is, and the frame count that the encoder wrote.
 * Sources: ISO/IEC 11172-3 (1993) 2.4.1.3 and 2.4.2.3; ISO/IEC 13818-3 (1998) 2.4.2.3 for the half rates; the
 * quarter rates ("MPEG 2.5") and the Xing and Info tags are common practice of encoders, without a standard.
 */
import { tagAt, uint32BigAt } from './bytes.js';

interface FrameHeader {
  readonly bytes: number;
  readonly samples: number;
  /** Hertz. */
  readonly sampleRate: number;
  /** Version and channel mode: equal in neighbouring frames of a stream. */
  readonly kind: string;
  readonly mono: boolean;
  /** Bytes of side information, after which the Xing tag stands in the first frame. */
  readonly sideBytes: number;
}

/** Kilobits a second by index, for MPEG-1 and for the lower rates. */
const KBITS_1 = [0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320];
const KBITS_2 = [0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160];
const RATES_1 = [44_100, 48_000, 32_000];

function frameHeaderAt(bytes: Uint8Array, at: number): FrameHeader | null {
  if (at + 4 > bytes.length || bytes[at] !== 0xff || (bytes[at + 1]! & 0xe0) !== 0xe0) return null;
  const version = (bytes[at + 1]! >> 3) & 3; // 3: MPEG-1, 2: MPEG-2, 0: MPEG-2.5, 1: reserved
  const layer = (bytes[at + 1]! >> 1) & 3; // 1: layer III
  const kbits = (version === 3 ? KBITS_1 : KBITS_2)[bytes[at + 2]! >> 4];
  const rate = RATES_1[(bytes[at + 2]! >> 2) & 3];
  if (version === 1 || layer !== 1 || !kbits || rate === undefined) return null;
  const sampleRate = version === 3 ? rate : version === 2 ? rate / 2 : rate / 4;
  const samples = version === 3 ? 1152 : 576;
  const padding = (bytes[at + 2]! >> 1) & 1;
  const mono = bytes[at + 3]! >> 6 === 3;
  return {
    bytes: Math.floor(((samples / 8) * kbits * 1000) / sampleRate) + padding,
    samples,
    sampleRate,
    kind: `${version} ${mono}`,
    mono,
    sideBytes: version === 3 ? (mono ? 17 : 32) : mono ? 9 : 17,
  };
}

export interface Mp3Start {
  /** Position of the first frame. */
  readonly at: number;
  /** Length of the sound in seconds by the Xing or Info tag, null without one. */
  readonly claimedSeconds: number | null;
  readonly mono: boolean;
}

/** Bytes of junk that are searched for the first frame. */
const SEARCH_BYTES = 1 << 18;
/** Frames that must follow each other before a position counts as a start: sync bits occur by chance. */
const CHAIN = 3;

/**
 * The first frame at or after `from` that is followed by others of its kind, or null. A file that ends within
 * the chain is taken when it holds at least one whole frame and ends with or inside the next.
 */
export function findMp3Start(bytes: Uint8Array, from: number): Mp3Start | null {
  const end = Math.min(bytes.length, from + SEARCH_BYTES);
  for (let at = from; at < end; at++) {
    const header = frameHeaderAt(bytes, at);
    if (header !== null && isChain(bytes, at, header)) {
      return { at, claimedSeconds: claimOf(bytes, at, header), mono: header.mono };
    }
  }
  return null;
}

function isChain(bytes: Uint8Array, start: number, first: FrameHeader): boolean {
  let at = start;
  for (let count = 0; count < CHAIN; count++) {
    const header = frameHeaderAt(bytes, at);
    if (header === null) return count > 0 && endsAt(bytes, at);
    if (header.kind !== first.kind || header.sampleRate !== first.sampleRate) return false;
    if (at + header.bytes > bytes.length) return count > 0;
    at += header.bytes;
  }
  return true;
}

/** The end of the file, or of the sound where an ID3v1 or APE tag follows. */
function endsAt(bytes: Uint8Array, at: number): boolean {
  return at + 4 > bytes.length || tagAt(bytes, at, 3) === 'TAG' || tagAt(bytes, at, 3) === 'APE';
}

function claimOf(bytes: Uint8Array, at: number, header: FrameHeader): number | null {
  const tag = at + 4 + header.sideBytes;
  const letters = tagAt(bytes, tag);
  if (letters !== 'Xing' && letters !== 'Info') return null;
  if ((uint32BigAt(bytes, tag + 4) & 1) === 0) return null;
  const frames = uint32BigAt(bytes, tag + 8);
  // The LAME extension gives the samples that encoder delay and padding add: 12 bits each.
  const delayAt = tag + 141;
  const delay = (bytes[delayAt]! << 4) | (bytes[delayAt + 1]! >> 4);
  const padding = ((bytes[delayAt + 1]! & 15) << 8) | bytes[delayAt + 2]!;
  const extra = /^(LAME|Lav[cf])/.test(tagAt(bytes, tag + 120)) ? delay + padding : 0;
  return Math.max(0, frames * header.samples - extra) / header.sampleRate;
}
