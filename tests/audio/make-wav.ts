/** Builds WAV files byte by byte from the published layout, so that nothing of the program makes its own input. */

export const tag = (letters: string) => [...Buffer.from(letters, 'latin1')];
export const u16 = (value: number) => [value & 255, (value >> 8) & 255];
export const u32 = (value: number) => [...u16(value % 65_536), ...u16(Math.floor(value / 65_536))];
export const u64 = (value: number) => [...u32(value % 2 ** 32), ...u32(Math.floor(value / 2 ** 32))];

export interface Format {
  readonly tag?: number;
  readonly channels?: number;
  readonly rate?: number;
  readonly bits?: number;
}

export function fmt({ tag: code = 1, channels = 1, rate = 16_000, bits = 16 }: Format = {}): number[] {
  const frame = (channels * bits) / 8;
  return [
    ...tag('fmt '),
    ...u32(16),
    ...u16(code),
    ...u16(channels),
    ...u32(rate),
    ...u32(rate * frame),
    ...u16(frame),
    ...u16(bits),
  ];
}

/** WAVE_FORMAT_EXTENSIBLE: 40 bytes, the true format tag at the start of a GUID. */
export function fmtExtensible({
  tag: code = 1,
  channels = 1,
  rate = 16_000,
  bits = 16,
}: Format = {}): number[] {
  const frame = (channels * bits) / 8;
  return [
    ...tag('fmt '),
    ...u32(40),
    ...u16(0xfffe),
    ...u16(channels),
    ...u32(rate),
    ...u32(rate * frame),
    ...u16(frame),
    ...u16(bits),
    ...u16(22),
    ...u16(bits),
    ...u32(0),
    ...u16(code),
    0,
    0,
    0,
    0,
    0x10,
    0,
    0x80,
    0,
    0,
    0xaa,
    0,
    0x38,
    0x9b,
    0x71,
  ];
}

/** A chunk; `size` overrides the length that is written. */
export function chunk(letters: string, content: readonly number[], size = content.length): number[] {
  return [...tag(letters), ...u32(size), ...content];
}

export function riff(...chunks: readonly (readonly number[])[]): Uint8Array {
  const content = chunks.flat();
  return Uint8Array.from([...tag('RIFF'), ...u32(4 + content.length), ...tag('WAVE'), ...content]);
}

/** The low `bits / 8` bytes of each value, lowest first (two's complement). */
export function integers(values: readonly number[], bits: number): number[] {
  return values.flatMap((value) =>
    Array.from({ length: bits / 8 }, (_, byte) => Math.floor(value / 256 ** byte) & 255),
  );
}

export function floats(values: readonly number[], bits: 32 | 64): number[] {
  const array = bits === 32 ? Float32Array.from(values) : Float64Array.from(values);
  return [...new Uint8Array(array.buffer)];
}
