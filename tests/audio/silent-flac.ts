/** FLAC of silence in very few bytes, built from RFC 9639: small files that decode to hours. */

/** Samples of a block: the most that four bits of a frame header can say (9.1.1). */
const BLOCK = 32_768;
const RATE = 8000;

/** The check of a header (polynomial 7, 8 bits) or of a frame (0x8005, 16 bits). */
export function crc(bytes: readonly number[], polynomial: number, bits: number): number {
  let value = 0;
  for (const byte of bytes) {
    value ^= byte << (bits - 8);
    for (let i = 0; i < 8; i++) {
      value = ((value >> (bits - 1) ? polynomial : 0) ^ (value << 1)) & (2 ** bits - 1);
    }
  }
  return value;
}

/** A number as UTF-8 codes it (9.1.5); frame numbers here are below 2^16. */
function coded(number: number): number[] {
  if (number < 0x80) return [number];
  if (number < 0x800) return [0xc0 | (number >> 6), 0x80 | (number & 63)];
  return [0xe0 | (number >> 12), 0x80 | ((number >> 6) & 63), 0x80 | (number & 63)];
}

/** One frame (9.1 to 9.3): mono, 8 kHz, 16 bits, one constant subframe. */
function frame(number: number): number[] {
  const head = [0xff, 0xf8, 0xf4, 0x08, ...coded(number)];
  const body = [...head, crc(head, 0x07, 8), 0x00, 0x00, 0x00];
  const check = crc(body, 0x8005, 16);
  return [...body, check >> 8, check & 255];
}

/** A mono FLAC at 8 kHz of so many seconds of silence, whose header does not say how long it is. */
export function silentFlac(seconds: number): Uint8Array {
  const count = Math.ceil((seconds * RATE) / BLOCK);
  // STREAMINFO (8.2): block sizes, frame sizes unknown, 20 bits of rate, channels − 1, bits − 1, length and MD5 unknown.
  const block = [BLOCK >> 8, BLOCK & 255];
  const rate = [RATE >> 12, (RATE >> 4) & 255, (RATE & 15) << 4, 15 << 4];
  const info = [...block, ...block, 0, 0, 0, 0, 0, 0, ...rate, 0, 0, 0, 0, ...new Array(16).fill(0)];
  const frames = Array.from({ length: count }, (_, i) => frame(i)).flat();
  return Uint8Array.from([...Buffer.from('fLaC'), 0x80, 0, 0, info.length, ...info, ...frames]);
}
