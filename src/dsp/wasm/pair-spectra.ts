/** The spectra of two real frames at once, with vectors of WebAssembly, in single precision. */
import {
  advance,
  assemble,
  type Code,
  get,
  int,
  load,
  loadSame,
  mul,
  pick,
  plus,
  repeatWhileBelow,
  root,
  set,
  store,
} from './assemble.js';
import { type Complex, difference, sum } from './complex.js';
import {
  complexAt,
  INTEGERS,
  keep,
  layoutOf,
  SOURCE,
  SOURCE_END,
  TARGET,
  TWIDDLE,
  transformCode,
  VECTORS,
} from './stockham.js';

/** Two frames, the first as real and the second as imaginary part of one complex signal, and their spectra. */
export interface PairSpectra {
  /** The frames, `size` numbers each, to be written before every `transform`, which uses them up. */
  readonly first: Float32Array;
  readonly second: Float32Array;
  /** |X[k]|, or |X[k]|², for k = 0 … size/2, of the last transform, unnormalised. */
  readonly ofFirst: Float32Array;
  readonly ofSecond: Float32Array;
  transform(): void;
}

const PAGE_BYTES = 65_536;

type Values = 'magnitude' | 'power';

/** The code for frames of one size, and where what it reads and writes lies in its memory, in bytes. */
interface PairCode {
  readonly compiled: WebAssembly.Module;
  /** Numbers that it reads from `tableAt` on. */
  readonly table: readonly number[];
  readonly tableAt: number;
  /** How far imaginary parts lie behind real ones. */
  readonly imaginary: number;
  /** Where the real parts of the transform begin. */
  readonly result: number;
  /** Where the two spectra begin. */
  readonly outs: readonly [number, number];
  /** Size of the memory. */
  readonly bytes: number;
}

/** Made once a process, also because the engine makes code that it runs often faster, which is lost with the code. */
const made = new Map<string, PairCode>();

function codeFor(size: number, values: Values): PairCode {
  const name = `${size} ${values}`;
  const known = made.get(name) ?? makeCode(size, values);
  made.set(name, known);
  return known;
}

function makeCode(size: number, values: Values): PairCode {
  const layout = layoutOf(size);
  const { imaginary } = layout;
  /**
   * The spectrum of a real signal mirrors into its own conjugate, that of an imaginary one into minus that: the two are
   * half the sum and half the difference of what lies at k and at size − k. From k = 1 on.
   */
  function partedInto(outs: readonly number[], from: number, quarterAt: number): Code {
    const mirror = TWIDDLE;
    const backwards = (vector: Code) => pick(vector, vector, [3, 2, 1, 0]);
    const strengthOf = ([re, im]: Complex): Code => {
      const power = mul(loadSame(int(quarterAt)), plus(mul(re, re), mul(im, im)));
      return values === 'power' ? power : root(power);
    };
    const across = outs[1]! - outs[0]!;
    return [
      ...set(SOURCE, int(from + 4)),
      ...set(SOURCE_END, int(from + 4 + 2 * size)),
      ...set(mirror, int(from + 4 * (size - 4))),
      ...set(TARGET, int(outs[0]! + 4)),
      ...repeatWhileBelow(SOURCE, SOURCE_END, [
        ...keep(0, [load(get(SOURCE)), load(get(SOURCE), imaginary)]),
        ...keep(1, [backwards(load(get(mirror))), backwards(load(get(mirror), imaginary))]),
        ...keep(2, sum(complexAt(0), complexAt(1))),
        ...keep(3, difference(complexAt(0), complexAt(1))),
        ...store(get(TARGET), strengthOf([complexAt(2)[0], complexAt(3)[1]])),
        ...store(get(TARGET), strengthOf([complexAt(3)[0], complexAt(2)[1]]), across),
        ...advance(SOURCE, int(16)),
        ...advance(TARGET, int(16)),
        ...advance(mirror, int(-16)),
      ]),
    ];
  }

  const { code, table, result } = transformCode(size);
  const quarter = layout.table + 4 * table.length;
  const outs = [quarter + 4, quarter + 4 + 4 * (size / 2 + 1)] as const;
  const compiled = new WebAssembly.Module(
    assemble([
      {
        name: 'transform',
        parameters: 0,
        integers: INTEGERS,
        vectors: VECTORS,
        body: [...code, ...partedInto(outs, result, quarter)],
      },
    ]),
  );
  return {
    compiled,
    table: [...table, 0.25],
    tableAt: layout.table,
    imaginary,
    result,
    outs,
    bytes: outs[1] + 4 * (size / 2 + 1),
  };
}

/**
 * Makes the memory for frames of one size, and the code where there is none yet: make one and reuse it.
 *
 * @param size of a frame, a power of two from 16 to 4096
 * @param values magnitudes, or powers
 */
export function pairSpectra(size: number, values: Values): PairSpectra {
  const { compiled, table, tableAt, imaginary, result, outs, bytes } = codeFor(size, values);
  const memory = new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE_BYTES) });
  const { exports } = new WebAssembly.Instance(compiled, { env: { memory } });
  const { transform } = exports as { transform(): void };
  const floats = new Float32Array(memory.buffer);
  floats.set(table, tableAt / 4);
  const [ofFirst, ofSecond] = outs.map((out) => floats.subarray(out / 4, out / 4 + size / 2 + 1));
  return {
    first: floats.subarray(0, size),
    second: floats.subarray(imaginary / 4, imaginary / 4 + size),
    ofFirst: ofFirst!,
    ofSecond: ofSecond!,
    transform() {
      transform();
      const [re, im] = [floats[result / 4]!, floats[(result + imaginary) / 4]!];
      ofFirst![0] = values === 'power' ? re * re : Math.abs(re);
      ofSecond![0] = values === 'power' ? im * im : Math.abs(im);
    },
  };
}
