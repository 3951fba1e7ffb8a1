import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DOT_STEP, filterKernels, HALVE_STEP } from '../../../src/dsp/wasm/filters.js';

const numbers = (length: number) =>
  fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: length, maxLength: length });

test('dot is the sum of products, wherever the two lie', () => {
  const kernels = filterKernels(400);
  fc.assert(
    fc.property(
      fc
        .tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 0, max: 9 }))
        .chain(([rounds, gap]) =>
          fc.tuple(numbers(rounds * DOT_STEP), numbers(rounds * DOT_STEP), fc.constant(gap)),
        ),
      ([a, b, gap]) => {
        const at = a.length + gap;
        kernels.memory.set(a);
        kernels.memory.set(b, at);
        const wanted = a.reduce((sum, value, k) => sum + value * b[k]!, 0);
        expect(kernels.dot(0, 4 * at, 4 * a.length)).toBeCloseTo(wanted, 4);
      },
    ),
  );
});

test('halve weighs the middle and the pairs around it', () => {
  const kernels = filterKernels(200);
  fc.assert(
    fc.property(
      fc
        .integer({ min: 1, max: 8 })
        .chain((pairs) => fc.tuple(numbers(pairs + 1), numbers(HALVE_STEP), numbers(HALVE_STEP + 2 * pairs))),
      ([taps, middle, around]) => {
        const { memory } = kernels;
        const pairs = taps.length - 1;
        memory.set(taps);
        memory.set(middle, 40);
        memory.set(around, 80);
        const before = 80 + pairs - 1;
        kernels.halve(4 * 150, 4 * 151, 4 * 40, 4 * before, 4 * (before + 1), 0, 4 * taps.length);
        for (let i = 0; i < HALVE_STEP; i++) {
          let wanted = taps[0]! * middle[i]!;
          for (let k = 1; k <= pairs; k++) {
            wanted += taps[k]! * (memory[before + i - k + 1]! + memory[before + i + k]!);
          }
          expect(memory[150 + i]).toBeCloseTo(wanted, 4);
        }
      },
    ),
  );
});
