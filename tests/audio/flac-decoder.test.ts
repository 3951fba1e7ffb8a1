/** One decoder for frames of many recordings. */
import { readFileSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
import { decodeFlacFrames } from '../../src/audio/flac-decoder.js';
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

/** Half a second of our own, mono (decode.test.ts). */
const TONE = framesOf(new Uint8Array(readFileSync(new URL('files/tone.flac', import.meta.url))));
const SILENCE = framesOf(silentFlac(10));

function framesOf(bytes: Uint8Array): readonly Uint8Array[] {
  return readFlacLayout(bytes).runs.flatMap(({ frames }) => frames);
}

async function soundOf(frames: readonly Uint8Array[]): Promise<number[]> {
  const samples: number[] = [];
  for await (const { channels } of decodeFlacFrames(frames)) samples.push(...channels[0]!);
  return samples;
}

test('recordings one after the other need one decoder, and sound as with one each', async () => {
  const alone = await soundOf(TONE);
  expect(alone).toHaveLength(11_025);
  const before = made.decoders;
  expect(await soundOf(SILENCE)).toEqual(new Array(SILENCE.length * 32_768).fill(0));
  expect(await soundOf(TONE)).toEqual(alone);
  expect(made.decoders).toBe(before);
});

test('sound comes a frame at a time, so that few bytes never become hours in memory', async () => {
  const lengths: number[] = [];
  for await (const { channels } of decodeFlacFrames(SILENCE)) lengths.push(channels[0]!.length);
  expect(lengths).toEqual(SILENCE.map(() => 32_768));
});

test('recordings decoded at the same time do not mix', async () => {
  const alone = await soundOf(TONE);
  const [one, silence, two] = await Promise.all([soundOf(TONE), soundOf(SILENCE), soundOf(TONE)]);
  expect(one).toEqual(alone);
  expect(two).toEqual(alone);
  expect(silence.every((sample) => sample === 0)).toBe(true);
});

test('a frame that is no sound though its check is right costs the decoder, and no other frame its sound', async () => {
  const alone = await soundOf(TONE);
  const body = [...TONE[4]!.subarray(0, -2)];
  // From the first subframe on (9.2: its first bit is 0 in any that is sound).
  body.fill(0xff, 8);
  const check = crc(body, 0x8005, 16);
  const before = made.decoders;
  const sound = await soundOf([Uint8Array.of(...body, check >> 8, check & 255)]);
  expect(sound.filter((sample) => sample !== 0)).toEqual([]);
  expect(await soundOf(TONE)).toEqual(alone);
  expect(made.decoders).toBe(before + 1);
});
