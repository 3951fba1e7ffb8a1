/**
 * What an Ogg file holds and how long it is, from its page headers.
 * Sources: RFC 3533 section 6 (pages), RFC 7845 sections 4 and 5 (Opus), Vorbis I specification 4.2.2.
 */
import { tagAt, uint16LittleAt, uint32LittleAt, uint64LittleAt } from './bytes.js';

/** Granule positions of Opus count samples of this rate, whatever was recorded (RFC 7845, section 4). */
const OPUS_RATE = 48_000;

export interface OggFacts {
  readonly codec: 'vorbis' | 'opus' | 'other';
  /** Length by the last page that gives one, null where none does. */
  readonly claimedSeconds: number | null;
  /** From the first page that gives a length to the last, null without: a stream need not begin at 0. */
  readonly heldSeconds: number | null;
  /** False when a page is cut, or its checksum or the place of the next page is wrong. */
  readonly intact: boolean;
}

export function readOggFacts(bytes: Uint8Array): OggFacts {
  const packet = 27 + (bytes[26] ?? 0);
  const opus = tagAt(bytes, packet, 8) === 'OpusHead';
  if (!opus && tagAt(bytes, packet, 7) !== '\x01vorbis')
    return { codec: 'other', claimedSeconds: null, heldSeconds: null, intact: true };
  const rate = opus ? OPUS_RATE : uint32LittleAt(bytes, packet + 12);
  const skip = opus ? uint16LittleAt(bytes, packet + 10) : 0;
  const { first, last, intact } = walkPages(bytes, uint32LittleAt(bytes, 14));
  const known = first !== null && last !== null && rate > 0;
  return {
    codec: opus ? 'opus' : 'vorbis',
    claimedSeconds: known ? Math.max(0, last - skip) / rate : null,
    heldSeconds: known ? Math.max(0, last - first) / rate : null,
    intact,
  };
}

/**
 * The first granule position above 0 and the last of the stream `serial`; pages on which no packet ends give −1 and are
 * passed over.
 */
function walkPages(bytes: Uint8Array, serial: number) {
  let first: number | null = null;
  let last: number | null = null;
  let intact = true;
  for (let at = 0; at < bytes.length; ) {
    const end = tagAt(bytes, at) === 'OggS' ? pageEnd(bytes, at) : null;
    if (end === null || end > bytes.length || !checksumHolds(bytes, at, end)) {
      intact = false;
      at = nextCapture(bytes, at + 1);
      continue;
    }
    const position = uint64LittleAt(bytes, at + 6);
    if (uint32LittleAt(bytes, at + 14) === serial && position < 2 ** 62) {
      if (position > 0) first ??= position;
      last = position;
    }
    at = end;
  }
  return { first: first ?? last, last, intact };
}

/** A page has 27 bytes, a length for each of its segments, and the segments. */
function pageEnd(bytes: Uint8Array, at: number): number {
  const table = at + 27;
  const segments = bytes[at + 26] ?? 0;
  let end = table + segments;
  for (let i = 0; i < segments; i++) end += bytes[table + i] ?? 0;
  return end;
}

function nextCapture(bytes: Uint8Array, from: number): number {
  for (let at = bytes.indexOf(0x4f, from); at >= 0; at = bytes.indexOf(0x4f, at + 1)) {
    if (tagAt(bytes, at) === 'OggS') return at;
  }
  return bytes.length;
}

/** CRC of RFC 3533 section 6: polynomial 0x04c11db7, not reflected, from 0, the checksum's own bytes as 0. */
const CRC_TABLE = Int32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte << 24;
  for (let bit = 0; bit < 8; bit++) crc = crc < 0 ? (crc << 1) ^ 0x04c1_1db7 : crc << 1;
  return crc;
});
const CHECKSUM_AT = 22;

function checksumHolds(bytes: Uint8Array, at: number, end: number): boolean {
  let crc = 0;
  for (let i = at; i < end; i++) {
    const byte = i >= at + CHECKSUM_AT && i < at + CHECKSUM_AT + 4 ? 0 : bytes[i]!;
    crc = (crc << 8) ^ CRC_TABLE[(crc >>> 24) ^ byte]!;
  }
  return crc >>> 0 === uint32LittleAt(bytes, at + CHECKSUM_AT);
}
