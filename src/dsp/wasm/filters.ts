/** The two loops of resampling, four numbers at once, in single precision. */
import {
  add,
  advance,
  assemble,
  get,
  int,
  type Kernel,
  load,
  loadSame,
  mul,
  plus,
  repeatWhileBelow,
  set,
  store,
  sumOf,
} from './assemble.js';

const PAGE_BYTES = 65_536;
/** Numbers that `dot` takes in one round: four vectors, so that one addition need not wait for the last. */
export const DOT_STEP = 16;
/** Outputs of one round of `halve`. */
export const HALVE_STEP = 8;

/** Addresses are in bytes, in the memory that came with the kernels. */
export interface FilterKernels {
  readonly memory: Float32Array;
  /** Σ a[k]·b[k] over numbers from `a` up to `aEnd`, a multiple of DOT_STEP of them, at least one. */
  dot(a: number, b: number, aEnd: number): number;
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

const dot: Kernel = {
  name: 'dot',
  parameters: 3,
  integers: 0,
  vectors: 4,
  returns: 'number',
  body: [
    ...repeatWhileBelow(0, 2, [
      ...[0, 1, 2, 3].flatMap((k) =>
        set(3 + k, plus(get(3 + k), mul(load(get(0), 16 * k), load(get(1), 16 * k)))),
      ),
      ...advance(0, int(4 * DOT_STEP)),
      ...advance(1, int(4 * DOT_STEP)),
    ]),
    ...set(3, plus(plus(get(3), get(4)), plus(get(5), get(6)))),
    ...sumOf(3),
  ],
};

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
    returns: 'nothing',
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
  compiled ??= new WebAssembly.Module(assemble([dot, halve]));
  const memory = new WebAssembly.Memory({ initial: Math.ceil((4 * numbers) / PAGE_BYTES) });
  const { exports } = new WebAssembly.Instance(compiled, { env: { memory } });
  return {
    ...(exports as Omit<FilterKernels, 'memory'>),
    memory: new Float32Array(memory.buffer),
  };
}
