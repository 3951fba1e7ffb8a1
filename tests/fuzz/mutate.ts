/** Damage that any file may take: a few changes to a copy of its bytes, by a seeded generator. */
import type { Random } from '../../fixtures/maker/random.js';

export type Mutation = (bytes: Uint8Array, random: Random) => Uint8Array;

/** A whole number from 0 to below `end`. */
export function below(random: Random, end: number): number {
  return Math.floor(random.next() * Math.max(1, end));
}

/** Longest piece that is cut out, doubled or wiped, in bytes. */
const LONGEST_BLOCK = 4096;
/** What breaks sums of sizes, in the 8, 16 and 32 bits that they are written in. */
const EXTREMES = [0, 1, 0x7f, 0x80, 0xff, 0x7fff, 0x8000, 0xffff, 0x7fff_ffff, 0x8000_0000, 0xffff_ffff];

function block(bytes: Uint8Array, random: Random): [from: number, to: number] {
  const from = below(random, bytes.length);
  return [from, Math.min(bytes.length, from + 1 + below(random, LONGEST_BLOCK))];
}

export function joined(...parts: readonly Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts));
}

/** Headers stand at the start: half of the changes to single places fall into the first 256 bytes. */
function place(bytes: Uint8Array, random: Random): number {
  return below(random, random.chance(0.5) ? Math.min(bytes.length, 256) : bytes.length);
}

function flipBits(bytes: Uint8Array, random: Random): Uint8Array {
  const count = 1 + below(random, 20);
  for (let i = 0; i < count; i++) {
    const at = place(bytes, random);
    if (at < bytes.length) bytes[at]! ^= 1 << below(random, 8);
  }
  return bytes;
}

function truncate(bytes: Uint8Array, random: Random): Uint8Array {
  return bytes.subarray(0, below(random, random.chance(0.3) ? 300 : bytes.length));
}

function loseStart(bytes: Uint8Array, random: Random): Uint8Array {
  return bytes.subarray(below(random, bytes.length));
}

function double(bytes: Uint8Array, random: Random): Uint8Array {
  const [from, to] = block(bytes, random);
  return joined(bytes.subarray(0, to), bytes.subarray(from));
}

function remove(bytes: Uint8Array, random: Random): Uint8Array {
  const [from, to] = block(bytes, random);
  return joined(bytes.subarray(0, from), bytes.subarray(to));
}

function wipe(bytes: Uint8Array, random: Random): Uint8Array {
  return bytes.fill(random.pick([0, 0, 0xff, 0x55]), ...block(bytes, random));
}

function swap(bytes: Uint8Array, random: Random): Uint8Array {
  const [a, b] = [block(bytes, random), block(bytes, random)].sort((x, y) => x[0] - y[0]) as [
    [number, number],
    [number, number],
  ];
  const end = Math.min(a[1], b[0]);
  return joined(
    bytes.subarray(0, a[0]),
    bytes.subarray(...b),
    bytes.subarray(end, b[0]),
    bytes.subarray(a[0], end),
    bytes.subarray(b[1]),
  );
}

function extreme(bytes: Uint8Array, random: Random): Uint8Array {
  const at = place(bytes, random);
  const width = random.pick([1, 2, 4]);
  const value = random.pick(EXTREMES);
  const little = random.chance(0.5);
  for (let i = 0; i < width && at + i < bytes.length; i++) {
    bytes[at + i] = value >>> (8 * (little ? i : width - 1 - i));
  }
  return bytes;
}

function noise(bytes: Uint8Array, random: Random): Uint8Array {
  const [from, to] = block(bytes, random);
  for (let i = from; i < to; i++) bytes[i] = below(random, 256);
  return bytes;
}

const ALL: readonly Mutation[] = [
  flipBits,
  flipBits,
  truncate,
  loseStart,
  double,
  remove,
  wipe,
  swap,
  extreme,
  extreme,
  noise,
];

/** One to four of the changes above, to a copy. */
export const damage: Mutation = (bytes, random) => {
  let out: Uint8Array = bytes.slice();
  for (let left = 1 + below(random, 4); left > 0; left--) out = random.pick(ALL)(out, random);
  return out;
};
