import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createPages } from '../../src/audio/pages.js';

const PAGE = 2 ** 18;

test('samples come back in their order, whatever pieces they come in', () => {
  const pieces = fc.array(
    fc.oneof(fc.integer({ min: 0, max: 5 }), fc.integer({ min: PAGE - 2, max: 2 * PAGE + 2 })),
    {
      maxLength: 4,
    },
  );
  fc.assert(
    fc.property(pieces, (lengths) => {
      const pages = createPages();
      let next = 0;
      for (const length of lengths) pages.add(Float32Array.from({ length }, () => next++));
      expect(pages.length()).toBe(next);
      const all = pages.take();
      expect(all.length).toBe(next);
      expect(all.every((value, i) => value === i)).toBe(true);
      expect(pages.length()).toBe(0);
    }),
    { numRuns: 20 },
  );
});

// Other systems take memory back when they like.
test.skipIf(process.platform !== 'linux')('an hour is held once while it is put together', () => {
  const pages = createPages();
  const piece = new Float32Array(PAGE).fill(0.5);
  for (let i = 0; i < 200; i++) pages.add(piece);
  const before = process.memoryUsage().rss;
  const all = pages.take();
  const grown = process.memoryUsage().rss - before;
  // 200 MB were collected: held twice, memory would grow by as much.
  expect(all.byteLength).toBe(200 * 2 ** 20);
  expect(grown).toBeLessThan(100 * 2 ** 20);
});
