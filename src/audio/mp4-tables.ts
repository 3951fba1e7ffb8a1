/** MP4 indexes that would keep the demuxer busy for hours. */
import { tagAt, uint32BigAt } from './bytes.js';

/** A box has its size, its name, version and flags, and the tables their number of entries (ISO/IEC 14496-12, 4.2). */
const HEAD_BYTES = 16;
/** Entry of the table of samples to chunks (8.7.4): first chunk, samples of a chunk, description. */
const CHUNK_ENTRY_BYTES = 12;

/** Bytes of a table of sizes before its first entry (8.7.3): head, the one size of all or 0, and the number. */
const SIZES_HEAD_BYTES = 20;
/** Most samples of a chunk where no table of sizes says: days of sound. */
const MOST_SAMPLES = 2 ** 20;

/**
 * The same bytes, with no chunk said to have more samples than the index gives sizes for: mediabunny 1.61.0 counts
 * through all samples of a chunk for each packet, and two thousand million of them take seconds. Copies only where
 * something must be changed.
 */
export function boundChunks(bytes: Uint8Array): Uint8Array {
  const sizes = boxesNamed(bytes, 'stsz').map((at) =>
    uint32BigAt(bytes, at + 12) === 0 ? (uint32BigAt(bytes, at) - SIZES_HEAD_BYTES) / 4 : MOST_SAMPLES,
  );
  const most = sizes.length === 0 ? MOST_SAMPLES : Math.max(1, Math.floor(Math.max(...sizes)));
  let out = bytes;
  for (const at of boxesNamed(bytes, 'stsc')) {
    const end = at + uint32BigAt(bytes, at);
    for (let entry = at + HEAD_BYTES; entry + CHUNK_ENTRY_BYTES <= end; entry += CHUNK_ENTRY_BYTES) {
      if (uint32BigAt(bytes, entry + 4) <= most) continue;
      if (out === bytes) out = bytes.slice();
      new DataView(out.buffer).setUint32(entry + 4, most);
    }
  }
  return out;
}

/** Where boxes of a name begin, in the order of the bytes: those that lie within the file, of version 0. */
function boxesNamed(bytes: Uint8Array, name: string): number[] {
  const places: number[] = [];
  const first = name.charCodeAt(0);
  for (let tag = bytes.indexOf(first, 4); tag >= 0; tag = bytes.indexOf(first, tag + 1)) {
    if (tagAt(bytes, tag) !== name || uint32BigAt(bytes, tag + 4) !== 0) continue;
    const size = uint32BigAt(bytes, tag - 4);
    if (size >= HEAD_BYTES && tag - 4 + size <= bytes.length) places.push(tag - 4);
  }
  return places;
}
