import { describe, expect, test } from 'vitest';
import { decodeBlocks } from '../../src/audio/decode.js';
import { chunk, type Format, floats, fmt, fmtExtensible, integers, riff, tag, u32, u64 } from './make-wav.js';

/** All channels of a file, its blocks joined. */
async function channelsOf(bytes: Uint8Array): Promise<number[][]> {
  const channels: number[][] = [];
  for await (const block of decodeBlocks(bytes, 'test.wav')) {
    block.channels.forEach((channel, number) => {
      channels[number] = [...(channels[number] ?? []), ...channel];
    });
  }
  return channels;
}

const VALUES = [0, 1, -1, 0.5, -0.5] as const;

/** VALUES in full scale of `bits`: +1 does not exist in two's complement, so the largest value stands for it. */
function scaled(bits: number): number[] {
  return VALUES.map((value) => Math.min(value * 2 ** (bits - 1), 2 ** (bits - 1) - 1));
}

function contentOf({ tag: code = 1, bits = 16 }: Format): number[] {
  if (code === 3) return floats(VALUES, bits as 32 | 64);
  return bits === 8 ? scaled(8).map((value) => value + 128) : integers(scaled(bits), bits);
}

const FORMATS: readonly Format[] = [
  { bits: 8 },
  { bits: 16 },
  { bits: 24 },
  { bits: 32 },
  { tag: 3, bits: 32 },
  { tag: 3, bits: 64 },
];

describe('every sample format, plain and EXTENSIBLE', () => {
  for (const format of FORMATS) {
    for (const [name, header] of [
      ['plain', fmt],
      ['EXTENSIBLE', fmtExtensible],
    ] as const) {
      test(`${format.tag === 3 ? 'float' : 'PCM'} ${format.bits} ${name}`, async () => {
        const [channel] = await channelsOf(riff(header(format), chunk('data', contentOf(format))));
        const step = format.tag === 3 ? 0 : 2 ** (1 - format.bits!);
        expect(channel).toEqual(VALUES.map((value) => Math.fround(Math.min(value, 1 - step))));
      });
    }
  }

  test('A-law and µ-law: silence, the largest values and their signs (ITU-T G.711, tables 1 and 2)', async () => {
    // A-law inverts the even bits: 0xd5 is the smallest positive value, 0xaa the largest, 0x2a its negative.
    const [a] = await channelsOf(riff(fmt({ tag: 6, bits: 8 }), chunk('data', [0xd5, 0x55, 0xaa, 0x2a])));
    expect(a).toEqual([8, -8, 32_256, -32_256].map((value) => value / 32_768));
    // µ-law sends the complement: 0xff is 0, 0x80 the largest positive, 0x00 the largest negative value.
    const [mu] = await channelsOf(riff(fmt({ tag: 7, bits: 8 }), chunk('data', [0xff, 0x80, 0x00])));
    expect(mu).toEqual([0, 32_124, -32_124].map((value) => value / 32_768));
  });

  test('channels are told apart, up to 64 of them', async () => {
    const values = Array.from({ length: 64 }, (_, i) => i * 256);
    const bytes = riff(fmt({ channels: 64 }), chunk('data', integers([...values, ...values], 16)));
    expect(await channelsOf(bytes)).toEqual(values.map((value) => [value / 32_768, value / 32_768]));
  });

  test('a long file keeps every sample across blocks', async () => {
    const values = Array.from({ length: 70_001 * 2 }, (_, i) => (i % 60_000) - 30_000);
    const [left, right] = await channelsOf(riff(fmt({ channels: 2 }), chunk('data', integers(values, 16))));
    expect(left).toEqual(values.filter((_, i) => i % 2 === 0).map((value) => value / 32_768));
    expect(right).toEqual(values.filter((_, i) => i % 2 === 1).map((value) => value / 32_768));
  });
});

describe('containers that are written badly or unusually', () => {
  const content = integers([100, 200, 300, 400], 16);
  const expected = [[100, 200, 300, 400].map((value) => value / 32_768)];

  test('chunks of odd length before the sound, with and without their pad byte', async () => {
    expect(await channelsOf(riff(chunk('LIST', [1, 2, 3]), [0], fmt(), chunk('data', content)))).toEqual(
      expected,
    );
    expect(await channelsOf(riff(fmt(), chunk('junk', [1, 2, 3]), chunk('data', content)))).toEqual(expected);
  });

  test('chunks after the sound are not sound', async () => {
    expect(await channelsOf(riff(fmt(), chunk('data', content), chunk('LIST', [9, 9])))).toEqual(expected);
  });

  test('sizes of 0 and of all ones, left by recorders that could not seek back', async () => {
    expect(await channelsOf(riff(fmt(), chunk('data', content, 0)))).toEqual(expected);
    expect(await channelsOf(riff(fmt(), chunk('data', content, 0xffff_ffff)))).toEqual(expected);
  });

  test('a size of 0 before another chunk is true', async () => {
    expect(await channelsOf(riff(fmt(), chunk('data', []), chunk('LIST', [9, 9])))).toEqual([]);
  });

  test('RF64 with its size in ds64, sound in the middle', async () => {
    const ds64 = chunk('ds64', [...u64(100), ...u64(content.length), ...u64(4), ...u32(0)]);
    const chunks = [ds64, fmt(), chunk('data', content, 0xffff_ffff), chunk('LIST', [1, 2])].flat();
    const bytes = Uint8Array.from([...tag('RF64'), ...u32(0xffff_ffff), ...tag('WAVE'), ...chunks]);
    expect(await channelsOf(bytes)).toEqual(expected);
  });

  test('sound that ends early, within a frame', async () => {
    const bytes = riff(fmt({ channels: 2 }), chunk('data', content, 4000)).slice(0, -1);
    expect(await channelsOf(bytes)).toEqual([[100 / 32_768], [200 / 32_768]]);
  });
});
