import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRawStream, createWavStream, type PcmStream } from '../../src/audio/pcm-stream.js';
import { WAV_HEADER_BYTES, writeWavHeader } from '../../src/audio/wav-header.js';
import { InputError } from '../../src/errors.js';

const SAMPLES = Int16Array.from({ length: 1000 }, (_, i) => Math.round(20_000 * Math.sin(i / 7)));

function wav(sizes: 'true' | 'open' | 'zero', after = 0): Uint8Array {
  const file = new Uint8Array(WAV_HEADER_BYTES + 2 * SAMPLES.length + after);
  writeWavHeader(file, { float: false, bits: 16, channels: 1, sampleRate: 8000 }, 2 * SAMPLES.length);
  const view = new DataView(file.buffer);
  SAMPLES.forEach((sample, i) => {
    view.setInt16(WAV_HEADER_BYTES + 2 * i, sample, true);
  });
  file.fill(77, WAV_HEADER_BYTES + 2 * SAMPLES.length);
  if (sizes !== 'true') view.setUint32(WAV_HEADER_BYTES - 4, sizes === 'open' ? 0xffff_ffff : 0, true);
  return file;
}

function read(stream: PcmStream, bytes: Uint8Array, pieceBytes: number): number[] {
  const samples: number[] = [];
  for (let at = 0; at < bytes.length; at += pieceBytes) {
    const block = stream.push(bytes.subarray(at, at + pieceBytes));
    if (block !== null) samples.push(...block.channels[0]!);
  }
  stream.finish();
  return samples.map((sample) => Math.round(sample * 32_767));
}

describe('WAV that arrives in pieces', () => {
  test.each(['true', 'open', 'zero'] as const)('with a %s size gives every sample once', (sizes) => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3000 }), (pieceBytes) => {
        const heard = read(createWavStream('x'), wav(sizes), pieceBytes);
        expect(heard.length).toBe(SAMPLES.length);
        heard.forEach((sample, i) => {
          expect(Math.abs(sample - SAMPLES[i]!)).toBeLessThanOrEqual(1);
        });
      }),
      { numRuns: 25 },
    );
  });

  test('what follows the sound is not sound', () => {
    expect(read(createWavStream('x'), wav('true', 100), 64).length).toBe(SAMPLES.length);
  });

  test('its rate is that of the header', () => {
    expect(createWavStream('x').push(wav('true'))!.sampleRate).toBe(8000);
  });

  test.each([
    ['something else', new TextEncoder().encode('hello, this is text'), /is no WAV/],
    ['a header that is cut off', wav('true').subarray(0, 40), /without sound/],
    ['nothing', new Uint8Array(0), /is empty/],
  ])('%s is refused', (_name, bytes, message) => {
    expect(() => read(createWavStream('x'), bytes, 16)).toThrow(InputError);
    expect(() => read(createWavStream('x'), bytes, 16)).toThrow(message);
  });
});

test('bare samples: whole frames only, in any pieces', () => {
  const bytes = wav('true').subarray(WAV_HEADER_BYTES);
  const coding = { format: 'pcm', bits: 16, channels: 2, sampleRate: 16_000 } as const;
  for (const pieceBytes of [1, 3, 7, 4096]) {
    const heard = read(createRawStream(coding), bytes.subarray(0, bytes.length - 1), pieceBytes);
    expect(heard.length).toBe(SAMPLES.length / 2 - 1);
    expect(Math.abs(heard[10]! - SAMPLES[20]!)).toBeLessThanOrEqual(1);
  }
});
