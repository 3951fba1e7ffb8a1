/** The two loops of resampling, four numbers at once, in single precision. */
import {
  add,
  advance,
  assemble,
  get,
  int,
  isAtLeast,
  type Kernel,
  load,
  loadSame,
  mul,
  plus,
  repeatWhileBelow,
  set,
  store,
  storeOne,
  subtract,
  sumOf,
  times,
  zeros,
} from './assemble.js';

const PAGE_BYTES = 65_536;
/** Taps that `resample` takes in one round: four vectors, so that one addition need not wait for the last. */
export const ROW_STEP = 16;
/** Outputs of one round of `halve`. */
export const HALVE_STEP = 8;

/** Addresses are in bytes, in the memory that came with the kernels. */
export interface FilterKernels {
  readonly memory: Float32Array;
  /**
   * Writes outputs from `out` up to `outEnd`, at least one: each the sum of the taps of a row times the samples from `at`
   * on. The next one takes the row `rowStep` further on and the samples `atStep` further on; past `rowsEnd` it is the row
   * counted on from `rows`, and the samples from one more on. A row has `rowBytes`, a multiple of 4·ROW_STEP.
   */
  resample(
    out: number,
    outEnd: number,
    row: number,
    rows: number,
    rowsEnd: number,
    at: number,
    rowStep: number,
    atStep: number,
    rowBytes: number,
  ): void;
  /**
   * out[i] = taps[0]·middle[i] + Σ taps[k]·(before[i − k + 1] + after[i + k − 1]) for k = 1, 2, …, from `out` up to
   * `outEnd`, in rounds of HALVE_STEP: what lies behind is written too.
   */
  halve(
    out: number,
    outEnd: number,
    middle: number,
    before: number,
    after: number,
    taps: number,
    tapsEnd: number,
  ): void;
}

const resample: Kernel = (() => {
  const [out, outEnd, row, rows, rowsEnd, at, rowStep, atStep, rowBytes] = [0, 1, 2, 3, 4, 5, 6, 7, 8];
  const [tap, rowEnd, sample, carry] = [9, 10, 11, 12];
  const sums = [13, 14, 15, 16];
  return {
    name: 'resample',
    parameters: 9,
    integers: 4,
    vectors: 4,
    body: repeatWhileBelow(out, outEnd, [
      ...sums.flatMap((sum) => set(sum, zeros)),
      ...set(tap, get(row)),
      ...set(rowEnd, add(get(row), get(rowBytes))),
      ...set(sample, get(at)),
      ...repeatWhileBelow(tap, rowEnd, [
        ...sums.flatMap((sum, k) =>
          set(sum, plus(get(sum), mul(load(get(tap), 16 * k), load(get(sample), 16 * k)))),
        ),
        ...advance(tap, int(4 * ROW_STEP)),
        ...advance(sample, int(4 * ROW_STEP)),
      ]),
      ...set(sums[0]!, plus(plus(get(sums[0]!), get(sums[1]!)), plus(get(sums[2]!), get(sums[3]!)))),
      ...storeOne(get(out), sumOf(sums[0]!)),
      ...advance(out, int(4)),
      ...advance(row, get(rowStep)),
      // Past the last row: one sample further on, and as many rows back as there are.
      ...set(carry, isAtLeast(get(row), get(rowsEnd))),
      ...set(row, subtract(get(row), times(get(carry), subtract(get(rowsEnd), get(rows))))),
      ...advance(at, add(get(atStep), times(get(carry), int(4)))),
    ]),
  };
})();

const halve: Kernel = (() => {
  const [out, outEnd, middle, before, after, taps, tapsEnd] = [0, 1, 2, 3, 4, 5, 6];
  const [tap, low, high] = [7, 8, 9];
  const sums = [10, 11];
  const start = sums.flatMap((sum, i) => set(sum, mul(loadSame(get(taps)), load(get(middle), 16 * i))));
  const addPair = sums.flatMap((sum, i) =>
    set(sum, plus(get(sum), mul(loadSame(get(tap)), plus(load(get(low), 16 * i), load(get(high), 16 * i))))),
  );
  return {
    name: 'halve',
    parameters: 7,
    integers: 3,
    vectors: 2,
    body: repeatWhileBelow(out, outEnd, [
      ...start,
      ...set(tap, add(get(taps), int(4))),
      ...set(low, get(before)),
      ...set(high, get(after)),
      ...repeatWhileBelow(tap, tapsEnd, [
        ...addPair,
        ...advance(tap, int(4)),
        ...advance(low, int(-4)),
        ...advance(high, int(4)),
      ]),
      ...sums.flatMap((sum, i) => store(get(out), get(sum), 16 * i)),
      ...[out, middle, before, after].flatMap((pointer) => advance(pointer, int(4 * HALVE_STEP))),
    ]),
  };
})();

let compiled: WebAssembly.Module | null = null;

/** The kernels with a memory of their own, for at least so many numbers of 32 bits; all of them 0. */
export function filterKernels(numbers: number): FilterKernels {
  compiled ??= new WebAssembly.Module(assemble([resample, halve]));
  const memory = new WebAssembly.Memory({ initial: Math.ceil((4 * numbers) / PAGE_BYTES) });
  const { exports } = new WebAssembly.Instance(compiled, { env: { memory } });
  return {
    ...(exports as Omit<FilterKernels, 'memory'>),
    memory: new Float32Array(memory.buffer),
  };
}
