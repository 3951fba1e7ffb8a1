/** Reading of numbers and tags from bytes; past the end reads as 0 or as an empty tag. */

export function tagAt(bytes: Uint8Array, at: number, length = 4): string {
  return String.fromCharCode(...bytes.subarray(at, at + length));
}

export function uint16LittleAt(bytes: Uint8Array, at: number): number {
  return (bytes[at] ?? 0) + (bytes[at + 1] ?? 0) * 2 ** 8;
}

export function uint32LittleAt(bytes: Uint8Array, at: number): number {
  return uint16LittleAt(bytes, at) + uint16LittleAt(bytes, at + 2) * 2 ** 16;
}

/** 64 bits as a number: exact below 2^53, near enough above. */
export function uint64LittleAt(bytes: Uint8Array, at: number): number {
  return uint32LittleAt(bytes, at) + uint32LittleAt(bytes, at + 4) * 2 ** 32;
}

export function uint32BigAt(bytes: Uint8Array, at: number): number {
  return (
    (bytes[at] ?? 0) * 2 ** 24 +
    (bytes[at + 1] ?? 0) * 2 ** 16 +
    (bytes[at + 2] ?? 0) * 2 ** 8 +
    (bytes[at + 3] ?? 0)
  );
}

/** Where the content starts after an ID3v2 tag at the start (id3.org, ID3v2.4.0 section 3.1), 0 without one. */
export function endOfId3(bytes: Uint8Array): number {
  let at = 0;
  while (tagAt(bytes, at, 3) === 'ID3' && bytes.length >= at + 10) {
    const footer = (bytes[at + 5]! & 0x10) !== 0 ? 10 : 0;
    const size = bytes.subarray(at + 6, at + 10).reduce((sum, byte) => sum * 128 + (byte & 0x7f), 0);
    at += 10 + size + footer;
  }
  return at;
}
