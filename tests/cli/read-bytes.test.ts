import * as nodeFs from 'node:fs';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { afterAll, expect, test } from 'vitest';
import { onlyToHear, readBytes } from '../../src/cli/read-bytes.js';

const folder = mkdtempSync(join(tmpdir(), 'cantilena-read-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Four pieces and a bit of what a file is read by, no two neighbours alike. */
const BYTES = Uint8Array.from({ length: 4 * 2 ** 20 + 77 }, (_, i) => (i * 31 + (i >> 12)) & 255);
const SONG = join(folder, 'song.bin');
writeFileSync(SONG, BYTES);

const piped = (parts: readonly Uint8Array[]) => ({
  fs: nodeFs,
  streams: { ...process, stdin: Readable.from(parts.map((part) => Buffer.from(part))) },
});
const same = (got: Uint8Array, wanted: Uint8Array) => Buffer.compare(got, wanted) === 0;

test('a file, and pieces that come through a pipe, are put together', async () => {
  expect(same((await readBytes(SONG, piped([]))).bytes, BYTES)).toBe(true);
  const sizes = [1, 65_536, 0, 3, 1_500_000, 2, 2_628_839];
  const ends = sizes.map((_, i) => sizes.slice(0, i + 1).reduce((sum, size) => sum + size, 0));
  expect(ends.at(-1)).toBe(BYTES.length);
  const parts = ends.map((end, i) => BYTES.subarray(end - sizes[i]!, end));
  expect(same((await readBytes('-', piped(parts))).bytes, BYTES)).toBe(true);
  expect((await readBytes('-', piped([]))).bytes).toHaveLength(0);
});

test('a file that grew or shrank since its size was looked at is read as it is', async () => {
  for (const size of [0, 10, 3 * BYTES.length]) {
    const stat = async (path: string) => Object.assign(await nodeFs.promises.stat(path), { size });
    const fs = { ...nodeFs, promises: { ...nodeFs.promises, stat } };
    expect(same((await readBytes(SONG, { ...piped([]), fs })).bytes, BYTES)).toBe(true);
  }
});

test('what is only heard can be let go of', async () => {
  const read = await readBytes(SONG, piped([]));
  expect(read.release).toBeUndefined();
  const { bytes, label, release } = onlyToHear(read);
  expect(bytes).toHaveLength(BYTES.length);
  expect(label).toBe(SONG);
  release!();
  expect(bytes).toHaveLength(0);
});
