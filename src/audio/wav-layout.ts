/**
 * Where the sound lies in a WAV file and how it is written: the chunk walk that wav-decoder does too simply.
 * It takes chunks of odd length with their pad byte, WAVE_FORMAT_EXTENSIBLE, RF64/BW64, sizes of 0 or
 * 0xFFFFFFFF left by writers that could not seek back, and files that end early.
 *
 * Sources: Microsoft & IBM, "Multimedia Programming Interface and Data Specifications 1.0" (1991), RIFF WAVE;
 * Microsoft, "Multiple Channel Audio Data and WAVE Files" (2007), EXTENSIBLE; EBU Tech 3306 v1.1, RF64.
 */
import { InputError } from '../errors.js';
import { tagAt, uint16LittleAt, uint32LittleAt, uint64LittleAt } from './bytes.js';
import { MOST_CHANNELS, tooManyChannels } from './open-audio.js';

export type SampleFormat = 'pcm' | 'float' | 'alaw' | 'mulaw';

export interface WavLayout {
  readonly container: 'wav' | 'rf64';
  readonly format: SampleFormat;
  /** Bits a stored sample: 8, 16, 24, 32 or 64. */
  readonly bits: number;
  readonly channels: number;
  /** Hertz, as written: not yet checked. */
  readonly sampleRate: number;
  /** The samples, whole frames only. */
  readonly data: Uint8Array;
  /** Bytes that the header says there are, null where it leaves that open. */
  readonly claimedBytes: number | null;
}

/** Format tags (RFC 2361 and mmreg.h). */
const FORMATS: ReadonlyMap<number, SampleFormat> = new Map([
  [0x0001, 'pcm'],
  [0x0003, 'float'],
  [0x0006, 'alaw'],
  [0x0007, 'mulaw'],
]);
const EXTENSIBLE = 0xfffe;
/** Size written by a program that streams, or by RF64 for "see ds64". */
const UNKNOWN_SIZE = 0xffff_ffff;

const BITS: Record<SampleFormat, readonly number[]> = {
  pcm: [8, 16, 24, 32],
  float: [32, 64],
  alaw: [8],
  mulaw: [8],
};

/** @throws InputError when there is no sound in it or it is written in a way that is not read. */
export function readWavLayout(bytes: Uint8Array, label: string): WavLayout {
  const rf64 = tagAt(bytes, 0) !== 'RIFF';
  let longDataBytes: number | null = null;
  let format: number | null = null;
  // Chunks follow each other from byte 12: four letters, 32-bit length, content, a pad byte after odd lengths.
  for (let at = 12; at + 8 <= bytes.length; ) {
    const tag = tagAt(bytes, at);
    const size = uint32LittleAt(bytes, at + 4);
    const content = at + 8;
    if (tag === 'ds64') longDataBytes = uint64LittleAt(bytes, content + 8);
    if (tag === 'fmt ') format = content;
    if (tag === 'data') {
      if (format === null)
        throw new InputError(
          `${label} is a WAV file whose sound comes before its format: it cannot be read.`,
        );
      const open = size === UNKNOWN_SIZE || (size === 0 && restIsNoChunk(bytes, content));
      const claimed = size === UNKNOWN_SIZE ? longDataBytes : size === 0 && open ? null : size;
      return {
        container: rf64 ? 'rf64' : 'wav',
        ...describe(bytes, format, content, claimed, label),
      };
    }
    at = nextChunk(bytes, content, size);
  }
  throw new InputError(`${label} is a WAV file without sound in it: record or save it again.`);
}

/** A size of 0 is true when nothing or another chunk follows, and otherwise a recorder that was not closed. */
function restIsNoChunk(bytes: Uint8Array, at: number): boolean {
  if (at >= bytes.length) return false;
  const size = uint32LittleAt(bytes, at + 4);
  return !(/^[A-Za-z0-9 ]{4}$/.test(tagAt(bytes, at)) && at + 8 + size <= bytes.length + 1);
}

/** Some writers leave out the pad byte: then the next chunk's letters stand one byte early. */
function nextChunk(bytes: Uint8Array, content: number, size: number): number {
  const end = content + size;
  if (size % 2 === 0) return end;
  const unpadded = tagAt(bytes, end);
  return unpadded === 'data' || unpadded === 'fmt ' ? end : end + 1;
}

function describe(bytes: Uint8Array, at: number, start: number, claimed: number | null, label: string) {
  const tag = uint16LittleAt(bytes, at);
  const channels = uint16LittleAt(bytes, at + 2);
  const sampleRate = uint32LittleAt(bytes, at + 4);
  const bits = uint16LittleAt(bytes, at + 14);
  // In EXTENSIBLE the true format tag is the start of the sub-format's GUID. Its valid bits may be fewer than
  // the stored ones; they are left-aligned, so the stored ones are right as they are.
  const format = FORMATS.get(tag === EXTENSIBLE ? uint16LittleAt(bytes, at + 24) : tag);
  if (format === undefined || !BITS[format].includes(bits)) {
    throw new InputError(
      `${label} is a WAV file in a coding that is not read (format ${tag}, ${bits} bits): save it as 16-bit PCM.`,
    );
  }
  if (channels === 0)
    throw new InputError(`${label} says that it has 0 channels: save it again as a mono or stereo file.`);
  // Before a sample is read: wav-decoder reads past the end where a frame's bytes don't fit the header's 16 bits.
  if (channels > MOST_CHANNELS) throw new InputError(tooManyChannels(label, channels));
  const frameBytes = channels * (bits / 8);
  const held = bytes.length - start;
  const used = Math.min(claimed ?? held, held);
  const data = bytes.subarray(start, start + used - (used % frameBytes));
  return { format, bits, channels, sampleRate, data, claimedBytes: claimed };
}
