/** Samples in half the memory: 16 bits each, and a scale for every block. */
import { type Shrinkable, shrinkable } from './shrinkable.js';

/** Samples of a block, which share a scale: 64 ms at 16 kHz. */
const BLOCK_SAMPLES = 1024;
/** Samples of a page: 512 kB. */
const PAGE_SAMPLES = 2 ** 18;
const LARGEST = 2 ** 15 - 1;

/** Numbers and scales of PAGE_SAMPLES samples: sample i is `numbers[i] * scales[floor(i / BLOCK_SAMPLES)]`. */
interface Page {
  readonly buffer: Shrinkable;
  readonly numbers: Int16Array;
  readonly scales: Float32Array;
}

/** Samples that are read by `unpack`. What was lost lies 98 dB below the largest of its block, as in 16-bit sound at full scale. */
export interface PackedSamples {
  readonly length: number;
  /** Number of the first sample in the pages: a part shares them with the whole. */
  readonly first: number;
  readonly pages: readonly Page[];
}

/** Collects samples that come piece by piece. */
export function createPacker() {
  const pages: Page[] = [];
  const block = new Float32Array(BLOCK_SAMPLES);
  let filled = 0;
  let blocks = 0;

  function packBlock(): void {
    const at = (blocks * BLOCK_SAMPLES) % PAGE_SAMPLES;
    if (at === 0) {
      const buffer = shrinkable(2 * PAGE_SAMPLES);
      pages.push({
        buffer,
        numbers: new Int16Array(buffer, 0, PAGE_SAMPLES),
        scales: new Float32Array(PAGE_SAMPLES / BLOCK_SAMPLES),
      });
    }
    const { numbers, scales } = pages.at(-1)!;
    scales[at / BLOCK_SAMPLES] = writeBlock(block, filled, numbers, at);
    blocks++;
    filled = 0;
  }

  return {
    add(samples: Float32Array): void {
      for (let at = 0; at < samples.length; ) {
        const piece = samples.subarray(at, at + BLOCK_SAMPLES - filled);
        block.set(piece, filled);
        filled += piece.length;
        at += piece.length;
        if (filled === BLOCK_SAMPLES) packBlock();
      }
    },
    length: (): number => blocks * BLOCK_SAMPLES + filled,
    /** All of them; nothing can be added then. */
    take(): PackedSamples {
      const length = this.length();
      if (filled > 0) packBlock();
      return { length, first: 0, pages };
    },
  };
}

/** Writes a block as whole numbers from `at` on; returns their scale. */
function writeBlock(block: Float32Array, length: number, numbers: Int16Array, at: number): number {
  let largest = 0;
  for (let i = 0; i < length; i++) {
    const size = Math.abs(block[i]!);
    if (size > largest) largest = size;
  }
  const scale = Math.fround(largest / LARGEST);
  // Below the smallest numbers there are, a block is silent.
  const steps = scale > 0 ? 1 / scale : 0;
  for (let i = 0; i < length; i++) {
    const value = block[i]! * steps;
    // An array of whole numbers cuts off what is behind the point.
    numbers[at + i] = value < 0 ? value - 0.5 : value + 0.5;
  }
  return scale;
}

export function pack(samples: Float32Array): PackedSamples {
  const packer = createPacker();
  packer.add(samples);
  return packer.take();
}

/** Samples `from` to `to` (not included), both within the whole, without copying. */
export function packedPart({ first, pages }: PackedSamples, from: number, to: number): PackedSamples {
  return { length: to - from, first: first + from, pages };
}

/**
 * Lets go at once of the memory of all pages whose samples lie before a number of the whole. They cannot be read any
 * more.
 */
export function letGo({ length, pages }: PackedSamples, before: number): void {
  const gone = before >= length ? pages.length : Math.floor(before / PAGE_SAMPLES);
  for (const { buffer } of pages.slice(0, gone)) if (buffer.byteLength > 0) buffer.resize(0);
}

/** Writes the samples from number `from` on, which may be negative, into the whole of `out`: 0 beyond the ends. */
export function unpack({ length, first, pages }: PackedSamples, from: number, out: Float32Array): void {
  const start = Math.min(Math.max(0, -from), out.length);
  const end = Math.max(start, Math.min(out.length, length - from));
  out.fill(0, 0, start);
  for (let i = start; i < end; ) {
    const at = first + from + i;
    const { numbers, scales } = pages[Math.floor(at / PAGE_SAMPLES)]!;
    const inPage = at % PAGE_SAMPLES;
    const scale = scales[Math.floor(inPage / BLOCK_SAMPLES)]!;
    const stop = Math.min(end, i + BLOCK_SAMPLES - (inPage % BLOCK_SAMPLES));
    for (let k = inPage; i < stop; i++, k++) out[i] = numbers[k]! * scale;
  }
  out.fill(0, end);
}
