/** Samples that come piece by piece, of which nobody knows how many will come. */
import { type Shrinkable, shrinkable } from '../dsp/shrinkable.js';

/** Samples of a page: 256 kB. */
const PAGE_SAMPLES = 2 ** 16;

/**
 * Collects samples and gives them back as one array. Each page is let go of as soon as it is copied, so that the most
 * held is all samples once and a page: left to the garbage collector, an hour is held twice (230 MB more).
 */
export function createPages() {
  const full: Shrinkable[] = [];
  let page = new Float32Array(0);
  let filled = 0;
  return {
    add(samples: Float32Array): void {
      for (let at = 0; at < samples.length; ) {
        if (filled === page.length) {
          const buffer = shrinkable(4 * PAGE_SAMPLES);
          full.push(buffer);
          page = new Float32Array(buffer, 0, PAGE_SAMPLES);
          filled = 0;
        }
        const piece = samples.subarray(at, at + page.length - filled);
        page.set(piece, filled);
        filled += piece.length;
        at += piece.length;
      }
    },
    length: (): number => Math.max(0, full.length - 1) * PAGE_SAMPLES + filled,
    /** All of them; none are left. */
    take(): Float32Array {
      const all = new Float32Array(this.length());
      full.forEach((buffer, i) => {
        const at = i * PAGE_SAMPLES;
        all.set(new Float32Array(buffer, 0, Math.min(PAGE_SAMPLES, all.length - at)), at);
        buffer.resize(0);
      });
      full.length = 0;
      page = new Float32Array(0);
      filled = 0;
      return all;
    },
  };
}
