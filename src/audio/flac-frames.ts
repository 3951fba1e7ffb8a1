/**
 * The frames of a FLAC file, each checked by its CRC, so that damage costs only the frames that it struck: the
 * decoder package drops everything after a damaged frame, or decodes it to noise, and reports neither.
 * Source: RFC 9639, sections 8.2 (STREAMINFO), 9.1 (frame header), 9.3 (frame footer).
 */
import { tagAt, uint32BigAt } from './bytes.js';

/** Neighbouring frames that are whole. */
export interface FlacRun {
  readonly start: number;
  readonly end: number;
  readonly frames: readonly Uint8Array[];
  /** Sample number of its first frame. */
  readonly firstSample: number;
}

export interface FlacLayout {
  /** Hertz. */
  readonly sampleRate: number;
  readonly channels: number;
  /** Samples a channel that the header claims, 0 when it does not know. */
  readonly totalSamples: number;
  /** Where the metadata end and the first frame should begin. */
  readonly metadataEnd: number;
  readonly runs: readonly FlacRun[];
}

/** What is read of a file that starts with "fLaC", however damaged. */
export function readFlacLayout(bytes: Uint8Array): FlacLayout {
  const sampleRate = uint32BigAt(bytes, 18) >>> 12;
  const channels = (((bytes[20] ?? 0) >> 1) & 7) + 1;
  const totalSamples = ((bytes[21] ?? 0) & 15) * 2 ** 32 + uint32BigAt(bytes, 22);
  // Blocks of metadata: a byte whose top bit marks the last one, 24 bits of length, content.
  let at = 4;
  for (let last = false; !last && at < bytes.length; ) {
    last = (bytes[at]! & 0x80) !== 0;
    at += 4 + (uint32BigAt(bytes, at) % 2 ** 24);
  }
  return { sampleRate, channels, totalSamples, metadataEnd: at, runs: findRuns(bytes, at) };
}

function findRuns(bytes: Uint8Array, from: number): FlacRun[] {
  const end = tagAt(bytes, bytes.length - 128, 3) === 'TAG' ? bytes.length - 128 : bytes.length;
  const runs: (FlacRun & { end: number; frames: Uint8Array[] })[] = [];
  let kind: number | null = null;
  let start = nextHeader(bytes, from, end, null);
  while (start < end) {
    kind ??= kindOf(bytes, start);
    const next = nextHeader(bytes, start + 2, end, kind);
    if (crc16(bytes, start, next) === 0) {
      const previous = runs.at(-1);
      const frame = bytes.subarray(start, next);
      if (previous?.end === start) {
        previous.end = next;
        previous.frames.push(frame);
      } else {
        runs.push({ start, end: next, frames: [frame], firstSample: firstSampleOf(bytes, start) });
      }
    }
    start = next;
  }
  return runs;
}

/** Blocking strategy, sample rate and bits: equal in all frames of a file; the channel coding is not. */
function kindOf(bytes: Uint8Array, at: number): number {
  return ((bytes[at + 1]! & 1) << 16) | ((bytes[at + 2]! & 15) << 8) | (bytes[at + 3]! & 15);
}

function nextHeader(bytes: Uint8Array, from: number, end: number, kind: number | null): number {
  for (let at = bytes.indexOf(0xff, from); at >= 0 && at < end; at = bytes.indexOf(0xff, at + 1)) {
    if ((kind === null || kindOf(bytes, at) === kind) && isHeader(bytes, at)) return at;
  }
  return end;
}

function isHeader(bytes: Uint8Array, at: number): boolean {
  if (at + 6 > bytes.length || (bytes[at + 1]! & 0xfe) !== 0xf8) return false;
  const size = bytes[at + 2]! >> 4;
  const rate = bytes[at + 2]! & 15;
  if (size === 0 || rate === 15 || bytes[at + 3]! >> 4 > 10 || (bytes[at + 3]! & 1) !== 0) return false;
  const sizeBytes = size === 6 ? 1 : size === 7 ? 2 : 0;
  const rateBytes = rate === 12 ? 1 : rate === 13 || rate === 14 ? 2 : 0;
  const checked = at + 4 + numberBytes(bytes, at) + sizeBytes + rateBytes;
  return checked < bytes.length && crc8(bytes, at, checked) === bytes[checked];
}

/** Length of the coded number: as many as the first byte's leading ones, 1 without any. */
function numberBytes(bytes: Uint8Array, at: number): number {
  return Math.max(1, Math.clz32((~bytes[at + 4]! & 0xff) << 24));
}

/** The coded number counts samples, or blocks of the size of this one where the block size is fixed. */
function firstSampleOf(bytes: Uint8Array, at: number): number {
  const length = numberBytes(bytes, at);
  let number = length === 1 ? bytes[at + 4]! : bytes[at + 4]! & (0x7f >> length);
  for (let i = 1; i < length; i++) number = number * 64 + (bytes[at + 4 + i]! & 0x3f);
  return (bytes[at + 1]! & 1) === 1 ? number : number * fixedBlockSize(bytes);
}

/** Block size of a stream of fixed blocks: the least in STREAMINFO. */
function fixedBlockSize(bytes: Uint8Array): number {
  return ((bytes[8] ?? 0) << 8) | (bytes[9] ?? 0);
}

function crc8(bytes: Uint8Array, start: number, end: number): number {
  let crc = 0;
  for (let i = start; i < end; i++) {
    crc ^= bytes[i]!;
    for (let bit = 0; bit < 8; bit++) crc = (crc & 0x80) !== 0 ? ((crc << 1) ^ 0x07) & 0xff : crc << 1;
  }
  return crc;
}

const CRC16_TABLE = Uint16Array.from({ length: 256 }, (_, byte) => {
  let crc = byte << 8;
  for (let bit = 0; bit < 8; bit++) crc = (crc & 0x8000) !== 0 ? ((crc << 1) ^ 0x8005) & 0xffff : crc << 1;
  return crc;
});

/** 0 over a whole frame with its footer. */
function crc16(bytes: Uint8Array, start: number, end: number): number {
  let crc = 0;
  for (let i = start; i < end; i++) crc = CRC16_TABLE[(crc >> 8) ^ bytes[i]!]! ^ ((crc << 8) & 0xffff);
  return crc;
}
