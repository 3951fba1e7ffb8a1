/** The code of a complex Fourier transform of one size. */
import {
  add,
  advance,
  type Code,
  get,
  int,
  load,
  loadSame,
  pick,
  repeatWhileBelow,
  set,
  store,
} from './assemble.js';
import { type Complex, difference, minusTurned, plusTurned, product, sum } from './complex.js';

/** Local variables: pointers, then vectors, two a complex number. */
export const [SOURCE, SOURCE_END, ROW_END, TARGET, TWIDDLE] = [0, 1, 2, 3, 4];
export const INTEGERS = 5;
export const VECTORS = 22;
/** Where a butterfly leaves its four results. */
const RESULTS = [0, 1, 5, 3];
export const complexAt = (number: number): Complex => [
  get(INTEGERS + 2 * number),
  get(INTEGERS + 2 * number + 1),
];
export const keep = (number: number, [re, im]: Complex): Code => [
  ...set(INTEGERS + 2 * number, re),
  ...set(INTEGERS + 2 * number + 1, im),
];

export interface TransformCode {
  readonly code: Code;
  /** Numbers that the code reads from byte `table` of the layout on. */
  readonly table: readonly number[];
  /** Byte at which the real parts of the result begin; the imaginary ones as far behind as the layout says. */
  readonly result: number;
}

/**
 * Bytes between one part and the next beside their length: where parts lie a power of two apart, a processor takes what
 * is written to the one for what is read of the other, and waits. It cost a sixth of the time at 4096.
 */
const GAP_BYTES = 192;

/** Bytes at which what belongs to a transform lies: the real parts of the signal at 0. */
export function layoutOf(size: number) {
  const imaginary = 4 * size + GAP_BYTES;
  const work = 2 * imaginary;
  return { imaginary, work, table: 2 * work };
}

/**
 * Radix 4, decimation in frequency, sorted on the way (T. G. Stockham 1966; as in C. Van Loan, "Computational Frameworks
 * for the Fast Fourier Transform", 1992, section 1.7): of a length n and a stride s, the four numbers a quarter of n
 * apart become four neighbours s apart, turned by the first three powers of exp(−2πi·p/n). Four such groups at once,
 * neighbours in p on the first pass, where s is 1, and in the stride on the others. One pass of radix 2 where an odd
 * power of two leaves one.
 *
 * The signal lies as `layoutOf` says.
 *
 * @param size a power of two from 16 on
 */
export function transformCode(size: number): TransformCode {
  const { imaginary, work, table } = layoutOf(size);
  const twiddles: number[] = [];
  const at = (pointer: number, offset: number): Complex => [
    load(get(pointer), offset),
    load(get(pointer), imaginary + offset),
  ];
  const put = (offset: number, [re, im]: Complex): Code => [
    ...store(get(TARGET), re, offset),
    ...store(get(TARGET), im, imaginary + offset),
  ];
  /** Of the group whose numbers lie `size` bytes apart, turned by complex numbers 8 to 10, those that RESULTS name. */
  const butterfly: Code = [
    ...[0, 1, 2, 3].flatMap((j) => keep(j, at(SOURCE, j * size))),
    ...keep(4, sum(complexAt(0), complexAt(2))),
    ...keep(5, difference(complexAt(0), complexAt(2))),
    ...keep(6, sum(complexAt(1), complexAt(3))),
    ...keep(7, difference(complexAt(1), complexAt(3))),
    ...keep(0, sum(complexAt(4), complexAt(6))),
    ...keep(2, difference(complexAt(4), complexAt(6))),
    ...keep(4, minusTurned(complexAt(5), complexAt(7))),
    ...keep(6, plusTurned(complexAt(5), complexAt(7))),
    ...keep(1, product(complexAt(4), complexAt(8))),
    ...keep(5, product(complexAt(2), complexAt(9))),
    ...keep(3, product(complexAt(6), complexAt(10))),
  ];
  const begin = (from: number, to: number): Code => [
    ...set(SOURCE, int(from)),
    ...set(TARGET, int(to)),
    ...set(TWIDDLE, int(table + 4 * twiddles.length)),
  ];
  const turn = (p: number, n: number, power: number) => {
    const angle = (-2 * Math.PI * power * p) / n;
    return [Math.cos(angle), Math.sin(angle)];
  };

  function firstPass(from: number, to: number): Code {
    const quarter = size / 4;
    const code = [
      ...begin(from, to),
      ...set(SOURCE_END, int(from + size)),
      ...repeatWhileBelow(SOURCE, SOURCE_END, [
        ...[1, 2, 3].flatMap((power) =>
          keep(7 + power, [load(get(TWIDDLE), 32 * (power - 1)), load(get(TWIDDLE), 32 * (power - 1) + 16)]),
        ),
        ...butterfly,
        // Results of one group become neighbours: rows of four into columns.
        ...[0, 1].flatMap((part) => {
          const [a, b, c, d] = RESULTS.map((number) => complexAt(number)[part]!);
          const pairs = [
            [pick(a!, b!, [0, 4, 1, 5]), pick(c!, d!, [0, 4, 1, 5])],
            [pick(a!, b!, [2, 6, 3, 7]), pick(c!, d!, [2, 6, 3, 7])],
          ];
          return pairs.flatMap(([left, right], i) => [
            ...store(get(TARGET), pick(left!, right!, [0, 1, 4, 5]), part * imaginary + 32 * i),
            ...store(get(TARGET), pick(left!, right!, [2, 3, 6, 7]), part * imaginary + 32 * i + 16),
          ]);
        }),
        ...advance(SOURCE, int(16)),
        ...advance(TARGET, int(64)),
        ...advance(TWIDDLE, int(96)),
      ]),
    ];
    for (let p = 0; p < quarter; p += 4) {
      for (const power of [1, 2, 3]) {
        for (const part of [0, 1]) twiddles.push(...[0, 1, 2, 3].map((k) => turn(p + k, size, power)[part]!));
      }
    }
    return code;
  }

  function pass(n: number, stride: number, from: number, to: number): Code {
    const code = [
      ...begin(from, to),
      ...set(SOURCE_END, int(from + size)),
      ...repeatWhileBelow(SOURCE, SOURCE_END, [
        ...[1, 2, 3].flatMap((power) =>
          keep(7 + power, [
            loadSame(get(TWIDDLE), 8 * (power - 1)),
            loadSame(get(TWIDDLE), 8 * (power - 1) + 4),
          ]),
        ),
        ...set(ROW_END, add(get(SOURCE), int(4 * stride))),
        ...repeatWhileBelow(SOURCE, ROW_END, [
          ...butterfly,
          ...RESULTS.flatMap((number, j) => put(4 * stride * j, complexAt(number))),
          ...advance(SOURCE, int(16)),
          ...advance(TARGET, int(16)),
        ]),
        ...advance(TARGET, int(12 * stride)),
        ...advance(TWIDDLE, int(24)),
      ]),
    ];
    for (let p = 0; p < n / 4; p++) twiddles.push(...[1, 2, 3].flatMap((power) => turn(p, n, power)));
    return code;
  }

  function lastOfTwo(from: number, to: number): Code {
    return [
      ...begin(from, to),
      ...set(SOURCE_END, int(from + 2 * size)),
      ...repeatWhileBelow(SOURCE, SOURCE_END, [
        ...keep(0, at(SOURCE, 0)),
        ...keep(1, at(SOURCE, 2 * size)),
        ...put(0, sum(complexAt(0), complexAt(1))),
        ...put(2 * size, difference(complexAt(0), complexAt(1))),
        ...advance(SOURCE, int(16)),
        ...advance(TARGET, int(16)),
      ]),
    ];
  }

  const body: Code[] = [];
  let [here, there] = [0, work];
  const swap = () => {
    [here, there] = [there, here];
  };
  body.push(firstPass(here, there));
  swap();
  let length = size / 4;
  for (; length >= 4; length /= 4) {
    body.push(pass(length, size / length, here, there));
    swap();
  }
  if (length === 2) {
    body.push(lastOfTwo(here, there));
    swap();
  }
  return { code: body.flat(), table: twiddles, result: here };
}
