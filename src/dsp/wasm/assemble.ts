/**
 * WebAssembly modules from TypeScript: the few instructions that the kernels beside this file are written in. JavaScript
 * has no vectors; a loop over four numbers at once runs three to eight times as fast as over one (see docs/measured.md).
 * Written here because what is needed is small, so that no compiler and no binary file stands between source and program.
 *
 * Source: W3C, "WebAssembly Core Specification" 2.0, chapter 5 (binary format), with fixed-width SIMD, which every Node
 * from 16.4 on has. The numbers below are the opcodes of its appendix "Index of Instructions".
 */

/** Instructions, as bytes. An expression leaves one value on the stack, a statement none. */
export type Code = readonly number[];

function unsigned(value: number): number[] {
  return value < 0x80 ? [value] : [(value & 0x7f) | 0x80, ...unsigned(value >>> 7)];
}

function signed(value: number): number[] {
  const rest = value >> 7;
  const bits = value & 0x7f;
  return (rest === 0 && bits < 0x40) || (rest === -1 && bits >= 0x40)
    ? [bits]
    : [bits | 0x80, ...signed(rest)];
}

/** A vector instruction: the prefix, its number, then what it says beside. */
const simd = (number: number, ...beside: number[]) => [0xfd, ...unsigned(number), ...beside];
const binary = (opcode: Code) => (a: Code, b: Code) => [...a, ...b, ...opcode];

/** Value of a local variable; parameters come first, from 0. */
export const get = (local: number): Code => [0x20, ...unsigned(local)];
export const set = (local: number, value: Code): Code => [...value, 0x21, ...unsigned(local)];
export const int = (value: number): Code => [0x41, ...signed(value)];
export const add = binary([0x6a]);
export const subtract = binary([0x6b]);
export const times = binary([0x6c]);
/** 1 where the first is not below the second, both without a sign, else 0. */
export const isAtLeast = binary([0x4f]);
/** Adds to a local variable. */
export const advance = (local: number, by: Code): Code => set(local, add(get(local), by));
/** Runs the body, and again while local `from` is below local `to`, both without a sign. */
export const repeatWhileBelow = (from: number, to: number, body: Code): Code => [
  ...[0x03, 0x40],
  ...body,
  ...get(from),
  ...get(to),
  ...[0x49, 0x0d, 0x00],
  0x0b,
];

/** Four numbers of 32 bits at an address and `offset` bytes after it, aligned or not. */
export const load = (address: Code, offset = 0): Code => [...address, ...simd(0x00, 2, ...unsigned(offset))];
/** One number, four times. */
export const loadSame = (address: Code, offset = 0): Code => [
  ...address,
  ...simd(0x09, 2, ...unsigned(offset)),
];
export const store = (address: Code, value: Code, offset = 0): Code => [
  ...address,
  ...value,
  ...simd(0x0b, 2, ...unsigned(offset)),
];
/** Writes one number of 32 bits. */
export const storeOne = (address: Code, value: Code): Code => [...address, ...value, 0x38, 2, 0];
/** Four zeros. */
export const zeros: Code = simd(0x0c, ...new Array<number>(16).fill(0));
export const plus = binary(simd(0xe4));
export const minus = binary(simd(0xe5));
export const mul = binary(simd(0xe6));
export const root = (value: Code): Code => [...value, ...simd(0xe3)];
/** Four numbers out of the eight of two vectors, by their places 0..7. */
export const pick = (a: Code, b: Code, places: readonly number[]): Code => [
  ...a,
  ...b,
  ...simd(0x0d, ...places.flatMap((place) => [0, 1, 2, 3].map((byte) => 4 * place + byte))),
];
/** The sum of a vector in a local variable. */
export const sumOf = (vector: number): Code => {
  const lane = (number: number) => [...get(vector), ...simd(0x1f, number)];
  const sum = binary([0x92]);
  return sum(sum(lane(0), lane(1)), sum(lane(2), lane(3)));
};

/** A function of whole numbers, most of them addresses, that returns nothing. */
export interface Kernel {
  readonly name: string;
  readonly parameters: number;
  /** Local variables beside them: whole numbers first, then vectors. */
  readonly integers: number;
  readonly vectors: number;
  readonly body: Code;
}

const I32 = 0x7f;
const V128 = 0x7b;

const list = (items: readonly Code[]) => [...unsigned(items.length), ...items.flat()];
const section = (id: number, items: readonly Code[]) => {
  const content = list(items);
  return [id, ...unsigned(content.length), ...content];
};
const text = (word: string) => list([...word].map((letter) => [letter.charCodeAt(0)]));

/** The bytes of a module that exports the kernels and works on the memory given to it as `env.memory`. */
export function assemble(kernels: readonly Kernel[]): Uint8Array<ArrayBuffer> {
  const types = kernels.map(({ parameters }) => [
    0x60,
    ...list(new Array<Code>(parameters).fill([I32])),
    ...list([]),
  ]);
  const codes = kernels.map(({ integers, vectors, body }) => {
    const content = [
      ...list([
        [...unsigned(integers), I32],
        [...unsigned(vectors), V128],
      ]),
      ...body,
      0x0b,
    ];
    return [...unsigned(content.length), ...content];
  });
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(1, types),
    ...section(2, [[...text('env'), ...text('memory'), 0x02, 0x00, 0x00]]),
    ...section(
      3,
      kernels.map((_, i) => unsigned(i)),
    ),
    ...section(
      7,
      kernels.map(({ name }, i) => [...text(name), 0x00, ...unsigned(i)]),
    ),
    ...section(10, codes),
  ]);
}
