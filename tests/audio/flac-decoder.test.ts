/** One decoder for frames of many recordings. */
import { readFileSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
import { openFlac } from '../../src/audio/flac.js';
import { readFlacLayout } from '../../src/audio/flac-frames.js';
import { crc, silentFlac } from './silent-flac.js';

const made = vi.hoisted(() => ({ decoders: 0 }));

vi.mock('@wasm-audio-decoders/flac', async (importOriginal) => {
  const { FLACDecoder } = await importOriginal<typeof import('@wasm-audio-decoders/flac')>();
  return {
    FLACDecoder: class extends FLACDecoder {
      constructor() {
        super();
        made.decoders++;
      }
    },
  };
});

/** Half a second of our own, mono (decode.test.ts), and ten of silence. */
const TONE = new Uint8Array(readFileSync(new URL('files/tone.flac', import.meta.url)));
const SILENCE = silentFlac(10);

async function blocksOf(bytes: Uint8Array): Promise<number[][]> {
  const blocks: number[][] = [];
  for await (const { channels } of openFlac(bytes).blocks()) blocks.push([...channels[0]!]);
  return blocks;
}

const soundOf = async (bytes: Uint8Array) => (await blocksOf(bytes)).flat();

/** Every frame no sound from its last bytes on, though its check is right; with `junk` before it. */
function malformed(bytes: Uint8Array, junk: readonly number[]): Uint8Array {
  const { runs, metadataEnd } = readFlacLayout(bytes);
  const all = [...bytes.subarray(0, metadataEnd)];
  for (const frame of runs.flatMap(({ frames }) => frames)) {
    const body = [...frame.subarray(0, -2)];
    // The head of the subframe (9.2.1: its first bit is 0).
    body[body.length - 3] = 0xfe;
    const check = crc(body, 0x8005, 16);
    for (const byte of [...junk, ...body, check >> 8, check & 255]) all.push(byte);
  }
  return Uint8Array.from(all);
}

test('recordings one after the other need one decoder, and sound as with one each', async () => {
  const alone = await soundOf(TONE);
  expect(alone).toHaveLength(11_025);
  const before = made.decoders;
  expect((await soundOf(SILENCE)).every((sample) => sample === 0)).toBe(true);
  expect(await soundOf(TONE)).toEqual(alone);
  expect(made.decoders).toBe(before);
});

test('sound comes a frame at a time, so that few bytes never become hours in memory', async () => {
  expect((await blocksOf(SILENCE)).map(({ length }) => length)).toEqual([32_768, 32_768, 32_768]);
});

test('recordings decoded at the same time do not mix', async () => {
  const alone = await soundOf(TONE);
  const [one, silence, two] = await Promise.all([soundOf(TONE), soundOf(SILENCE), soundOf(TONE)]);
  expect(one).toEqual(alone);
  expect(two).toEqual(alone);
  expect(silence.every((sample) => sample === 0)).toBe(true);
});

test.each([
  ['in a row', []],
  ['with junk between them', [1, 2, 3]],
])(
  'any number of frames that are no sound, %s, cost one decoder and no other recording its sound',
  async (_, junk) => {
    const alone = await soundOf(TONE);
    const before = made.decoders;
    expect((await soundOf(malformed(silentFlac(2000), junk))).filter((sample) => sample !== 0)).toEqual([]);
    expect(made.decoders).toBe(before);
    expect(await soundOf(TONE)).toEqual(alone);
    expect(made.decoders).toBe(before + 1);
  },
);
