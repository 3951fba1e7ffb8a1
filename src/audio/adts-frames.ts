/** ADTS frames of raw AAC streams. Source: ISO/IEC 14496-3 (2009), 1.A.2.2. */

/** Sampling frequency index, ISO/IEC 14496-3 table 1.18. */
const RATES = [
  96_000, 88_200, 64_000, 48_000, 44_100, 32_000, 24_000, 22_050, 16_000, 12_000, 11_025, 8000, 7350,
];
/** Samples a channel in one raw data block. */
const BLOCK_SAMPLES = 1024;
/** Frames that must follow each other before a position counts as a start. */
const CHAIN = 3;

interface AdtsFrame {
  readonly bytes: number;
  readonly seconds: number;
}

function frameAt(bytes: Uint8Array, at: number): AdtsFrame | null {
  if (at + 7 > bytes.length || bytes[at] !== 0xff || (bytes[at + 1]! & 0xf6) !== 0xf0) return null;
  const rate = RATES[(bytes[at + 2]! >> 2) & 15];
  const length = ((bytes[at + 3]! & 3) << 11) | (bytes[at + 4]! << 3) | (bytes[at + 5]! >> 5);
  if (rate === undefined || length < 7) return null;
  return {
    bytes: length,
    seconds: (((bytes[at + 6]! & 3) + 1) * BLOCK_SAMPLES) / rate,
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
