import { describe, expect, test } from 'vitest';
import { decodeBlocks } from '../../src/audio/decode.js';
import { encodeWav } from '../../src/audio/write-wav.js';
import { chunk, fmt, integers, riff } from './make-wav.js';

describe('writing WAV', () => {
  test('16 bits by default: header and samples byte by byte, clamped, non-finite as 0', () => {
    const samples = Float32Array.of(0, 0.5, -0.5, 1, -1, 2, -2, Number.NaN);
    const expected = integers([0, 16_384, -16_384, 32_767, -32_768, 32_767, -32_768, 0], 16);
    expect([...encodeWav([samples], 16_000)]).toEqual([...riff(fmt(), chunk('data', expected))]);
  });

  test('24 bits, two channels side by side', () => {
    const expected = riff(
      fmt({ channels: 2, rate: 44_100, bits: 24 }),
      chunk('data', integers([2 ** 22, -(2 ** 23)], 24)),
    );
    expect([...encodeWav([Float32Array.of(0.5), Float32Array.of(-1)], 44_100, 24)]).toEqual([...expected]);
  });

  test('sound of odd length is padded, and the pad byte is not counted', async () => {
    const file = encodeWav([Float32Array.of(0.25)], 16_000, 24);
    expect(file.length).toBe(44 + 3 + 1);
    expect(file[40]).toBe(3);
    for await (const block of decodeBlocks(file, 'x')) expect([...block.channels[0]!]).toEqual([0.25]);
  });

  test('refuses no channel and channels of different lengths', () => {
    expect(() => encodeWav([], 16_000)).toThrow(RangeError);
    expect(() => encodeWav([new Float32Array(1), new Float32Array(2)], 16_000)).toThrow(RangeError);
  });
});
