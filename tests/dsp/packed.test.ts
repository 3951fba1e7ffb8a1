import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createPacker, letGo, pack, packedPart, unpack } from '../../src/dsp/packed.js';
import { unpacked } from './unpacked.js';

/** Samples of a block by the definition of the format, and of a page. */
const BLOCK = 1024;
const PAGE = 2 ** 18;

/** As `toEqual`, which takes seconds for so many numbers. */
const same = (a: Float32Array, b: Float32Array) => a.length === b.length && a.every((x, i) => x === b[i]);

const samplesOf = (length: number, level: (i: number) => number) =>
  Float32Array.from({ length }, (_, i) => level(i) * Math.sin(0.7 * i + 0.001 * i * i));

describe('packed samples', () => {
  test('differ from what went in by half a step of 32767 to the largest of their block at most', () => {
    // Loud and soft blocks side by side, from full scale down to −200 dB.
    const samples = samplesOf(20 * BLOCK + 77, (i) => 10 ** -(Math.floor(i / BLOCK) % 11));
    const got = unpacked(pack(samples));
    expect(got).toHaveLength(samples.length);
    for (let start = 0; start < samples.length; start += BLOCK) {
      const block = samples.subarray(start, start + BLOCK);
      const largest = block.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
      const furthest = block.reduce((most, x, i) => Math.max(most, Math.abs(x - got[start + i]!)), 0);
      expect(furthest).toBeLessThanOrEqual((0.501 * largest) / 32767);
    }
  });

  test('of silence, and of less than numbers can tell, are silence; what is largest stays within full scale', () => {
    expect([...unpacked(pack(Float32Array.of(0, 1e-44, -1e-44)))]).toEqual([0, 0, 0]);
    expect([...unpacked(pack(Float32Array.of(1, -1, 0)))]).toEqual([1, -1, 0]);
  });

  test('are the same however they came, over the ends of blocks and pages', () => {
    const samples = samplesOf(PAGE + 3 * BLOCK + 5, (i) => 1 / (1 + i / 9999));
    const whole = unpacked(pack(samples));
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 70_000 }), { maxLength: 12 }), (sizes) => {
        const packer = createPacker();
        let at = 0;
        for (const size of [...sizes, samples.length]) {
          packer.add(samples.subarray(at, at + size));
          at = Math.min(samples.length, at + size);
          expect(packer.length()).toBe(at);
        }
        expect(same(unpacked(packer.take()), whole)).toBe(true);
      }),
      { numRuns: 10 },
    );
  });

  test('are read from anywhere in a part, with zeros beyond its ends', () => {
    const samples = samplesOf(PAGE + 9000, () => 0.5);
    const packed = pack(samples);
    const whole = unpacked(packed);
    const number = fc.integer({ min: 0, max: samples.length });
    fc.assert(
      fc.property(number, number, fc.integer({ min: -5000, max: 5000 }), (a, b, offset) => {
        const [from, to] = [Math.min(a, b), Math.max(a, b)];
        const part = packedPart(packed, from, to);
        expect(part.length).toBe(to - from);
        const out = new Float32Array(4000).fill(9);
        unpack(part, offset, out);
        const wanted = out.map((_, i) => {
          const k = offset + i;
          return k >= 0 && k < to - from ? whole[from + k]! : 0;
        });
        expect(same(out, wanted)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('take half the memory, and none once they are let go of', () => {
    const packed = pack(new Float32Array(3 * PAGE).fill(0.1));
    const bytes = () => packed.pages.reduce((sum, { numbers }) => sum + numbers.buffer.byteLength, 0);
    expect(bytes()).toBe(2 * 3 * PAGE);
    letGo(packed, 2 * PAGE - 1);
    expect(bytes()).toBe(2 * 2 * PAGE);
    // What is left reads as before.
    const last = new Float32Array(PAGE + 9);
    unpack(packed, 2 * PAGE - 9, last);
    expect(last.every((x) => Math.abs(x - 0.1) < 1e-6)).toBe(true);
    letGo(packed, 3 * PAGE);
    expect(bytes()).toBe(0);
  });
});
