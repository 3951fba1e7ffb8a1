/**
 * What an Ogg file holds and how long it is, from its page headers.
 * Sources: RFC 3533 section 6 (pages), RFC 7845 sections 4 and 5 (Opus), Vorbis I specification 4.2.2.
 */
import { tagAt, uint16LittleAt, uint32LittleAt, uint64LittleAt } from './bytes.js';

/** Granule positions of Opus count samples of this rate, whatever was recorded (RFC 7845, section 4). */
const OPUS_RATE = 48_000;
/** A page has a header of 27 bytes, at most 255 segment lengths and 255 bytes a segment. */
const LONGEST_PAGE = 27 + 255 + 255 * 255;

export interface OggFacts {
  readonly codec: 'vorbis' | 'opus' | 'other';
  /** Length by the last page that gives one, null where none does. */
  readonly claimedSeconds: number | null;
}

export function readOggFacts(bytes: Uint8Array): OggFacts {
  const packet = 27 + (bytes[26] ?? 0);
  const vorbis = tagAt(bytes, packet, 7) === '\x01vorbis';
  const opus = tagAt(bytes, packet, 8) === 'OpusHead';
  if (!vorbis && !opus) return { codec: 'other', claimedSeconds: null };
  const rate = opus ? OPUS_RATE : uint32LittleAt(bytes, packet + 12);
  const skip = opus ? uint16LittleAt(bytes, packet + 10) : 0;
  const granule = lastGranule(bytes, uint32LittleAt(bytes, 14));
  const claimedSeconds = granule === null || rate === 0 ? null : Math.max(0, granule - skip) / rate;
  return { codec: opus ? 'opus' : 'vorbis', claimedSeconds };
}

/** Granule position of the last page of the stream `serial`; pages on which no packet ends give −1. */
function lastGranule(bytes: Uint8Array, serial: number): number | null {
  const stop = Math.max(0, bytes.length - 2 * LONGEST_PAGE);
  for (let at = bytes.length - 27; at >= stop; at--) {
    if (bytes[at] !== 0x4f || tagAt(bytes, at) !== 'OggS' || uint32LittleAt(bytes, at + 14) !== serial)
      continue;
    const granule = uint64LittleAt(bytes, at + 6);
    if (granule < 2 ** 62) return granule;
  }
  return null;
}
