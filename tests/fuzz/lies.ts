/**
 * Files whose headers lie: sizes, rates, channels and lengths that are not so, with the containers' checksums set right
 * again, so that the lie is believed.
 */
import type { Random } from '../../fixtures/maker/random.js';
import { below, joined, type Mutation } from './mutate.js';

const SIZES = [0, 1, 2, 7, 8, 0x7fff, 0xffff, 0x10_0000, 0x7fff_ffff, 0x8000_0000, 0xffff_fff0, 0xffff_ffff];

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Writes a number where there is room for it. */
function put32(bytes: Uint8Array, at: number, value: number, little: boolean): void {
  if (at >= 0 && at + 4 <= bytes.length) viewOf(bytes).setUint32(at, value, little);
}

/** Every place of `tag` in the bytes. */
function placesOf(bytes: Uint8Array, tag: string): number[] {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const places: number[] = [];
  for (let at = buffer.indexOf(tag, 0, 'latin1'); at >= 0; at = buffer.indexOf(tag, at + 1, 'latin1')) {
    places.push(at);
  }
  return places;
}

/** RIFF WAVE: sizes of chunks, and the fields of `fmt `. */
export const wavLie: Mutation = (bytes, random) => {
  const out = bytes.slice();
  const [fmt = 12] = placesOf(out, 'fmt ');
  const [data = 36] = placesOf(out, 'data');
  switch (below(random, 5)) {
    case 0:
      put32(out, data + 4, random.pick(SIZES), true);
      break;
    case 1:
      put32(out, fmt + 4, random.pick(SIZES), true);
      break;
    case 2:
      put32(
        out,
        fmt + 8,
        random.pick([0x0001_0003, 0xffff_fffe, 0x0002_0006, 0x0000_0001, 0x0041_0001]),
        true,
      );
      break;
    case 3:
      put32(out, fmt + 12, random.pick([...SIZES, 8000, 192_000]), true);
      break;
    default:
      put32(out, fmt + 20, random.pick([0x0008_0001, 0x0018_0003, 0x0040_0008, 0, 0xffff_ffff]), true);
  }
  return out;
};

/** ID3v2 tags before the sound: claiming up to 256 MB, one in the other, hundreds in a row. */
export const id3Lie: Mutation = (bytes, random) => {
  const tag = (size: number, content: Uint8Array) =>
    joined(
      Uint8Array.of(0x49, 0x44, 0x33, random.pick([2, 3, 4, 255]), 0, random.pick([0, 0x10, 0x40, 0xff])),
      Uint8Array.from([21, 14, 7, 0], (shift) => (size >>> shift) & 0x7f),
      content,
    );
  switch (below(random, 4)) {
    case 0:
      return tag(random.pick([2 ** 28 - 1, 2 ** 20, bytes.length, bytes.length + 1]), bytes);
    case 1:
      return tag(30, joined(tag(2 ** 28 - 1, new Uint8Array(20)), bytes));
    case 2:
      return joined(
        ...Array.from({ length: 1 + below(random, 2000) }, () => tag(0, new Uint8Array(0))),
        bytes,
      );
    default:
      return tag(10, joined(new Uint8Array(below(random, 40)), bytes));
  }
};

/** MPEG audio: bits of a frame header, and the frame count of the Xing or Info tag. */
export const mp3Lie: Mutation = (bytes, random) => {
  const out = bytes.slice();
  const tag = placesOf(out, 'Info')[0] ?? placesOf(out, 'Xing')[0] ?? -1;
  if (tag >= 0 && random.chance(0.5)) {
    put32(out, tag + 4 * (1 + below(random, 3)), random.pick(SIZES), false);
    return out;
  }
  const frame = out.indexOf(0xff, below(random, out.length));
  if (frame >= 0 && frame + 3 < out.length) out[frame + 1 + below(random, 3)] = below(random, 256);
  return out;
};

/** FLAC: STREAMINFO (RFC 9639, 8.2), which no checksum guards, and the lengths of metadata. */
export const flacLie: Mutation = (bytes, random) => {
  const out = bytes.slice();
  switch (below(random, 4)) {
    case 0:
      put32(out, 8, random.pick([0, 0x0010_0010, 0xffff_ffff, 0x0001_ffff, 0x1000_0001]), false);
      break;
    case 1:
      put32(out, 18, random.pick([...SIZES, below(random, 2 ** 32)]), false);
      break;
    case 2:
      out.fill(0xff, 21, 26);
      break;
    default:
      put32(
        out,
        random.pick([4, 42]),
        random.pick([0x00ff_ffff, 0x8000_0000, 0x0400_0000, 0x80ff_ffff]),
        false,
      );
  }
  return out;
};

/** Ogg: granule positions, serial and sequence numbers, flags and lacing, under a checksum that is right again. */
export const oggLie: Mutation = (bytes, random) => {
  const out = bytes.slice();
  const pages = placesOf(out, 'OggS').filter((at) => at + 27 <= out.length);
  for (let left = 1 + below(random, 3); left > 0 && pages.length > 0; left--) {
    const at = random.pick(pages);
    switch (below(random, 5)) {
      case 0:
        put32(out, at + 6, random.pick(SIZES), true);
        put32(out, at + 10, random.pick([0, 1, 0x7fff_ffff, 0xffff_ffff]), true);
        break;
      case 1:
        out[at + 5] = below(random, 8);
        break;
      case 2:
        put32(out, at + random.pick([14, 18]), random.pick(SIZES), true);
        break;
      case 3:
        out[at + 26] = random.pick([0, 1, 254, 255]);
        break;
      default:
        out[at + 27 + below(random, 4)] = random.pick([0, 1, 255]);
    }
    // Codec headers: rates, channels and run-up stand in the first page's packet.
    if (random.chance(0.3)) out[28 + below(random, 30)] = random.pick([0, 1, 0x7f, 0xff]);
    for (const page of pages) sealPage(out, page);
  }
  return out;
};

/** RFC 3533, section 6: polynomial 0x04c11db7, not reflected. */
function sealPage(bytes: Uint8Array, at: number): void {
  const table = at + 27;
  const segments = bytes.subarray(table, table + bytes[at + 26]!);
  const end = Math.min(bytes.length, table + segments.length + segments.reduce((sum, size) => sum + size, 0));
  put32(bytes, at + 22, 0, true);
  let crc = 0;
  for (let i = at; i < end; i++) {
    crc ^= bytes[i]! << 24;
    for (let bit = 0; bit < 8; bit++) crc = crc < 0 ? (crc << 1) ^ 0x04c1_1db7 : crc << 1;
  }
  put32(bytes, at + 22, crc >>> 0, true);
}

const ATOMS =
  'ftyp moov mvhd trak tkhd edts elst mdia mdhd hdlr minf stbl stsd mp4a alac esds stts stsc stsz stco'
    .split(' ')
    .concat('co64', 'mdat', 'udta', 'meta');

/** MP4 (ISO/IEC 14496-12): sizes of boxes, counts and offsets in tables, boxes under another's name. */
export const mp4Lie: Mutation = (bytes, random) => {
  const out = bytes.slice();
  for (let left = 1 + below(random, 3); left > 0; left--) {
    const at = random.pick(ATOMS.flatMap((name) => placesOf(out, name)));
    if (at === undefined) return out;
    switch (below(random, 4)) {
      case 0:
        put32(out, at - 4, random.pick([...SIZES, at, out.length]), false);
        break;
      case 1:
        put32(out, at + 4 * (1 + below(random, 8)), random.pick(SIZES), false);
        break;
      case 2:
        out.set(Buffer.from(random.pick(ATOMS), 'latin1'), at);
        break;
      default:
        put32(out, at + 4 * (2 + below(random, 5)), below(random, 2 ** 32), false);
    }
  }
  return out;
};

/** ADTS: lengths, rates and channels in the frame headers. */
export const adtsLie: Mutation = (bytes, random) => {
  const out = bytes.slice();
  const frame = out.indexOf(0xff, below(random, out.length));
  if (frame >= 0 && frame + 7 < out.length) out[frame + 1 + below(random, 6)] = pickByte(random);
  return out;
};

function pickByte(random: Random): number {
  return random.pick([0, 0xff, 0x80, below(random, 256)]);
}
