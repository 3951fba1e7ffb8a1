import fc from 'fast-check';
import { expect, test } from 'vitest';
import { filterKernels, HALVE_STEP, ROW_STEP } from '../../../src/dsp/wasm/filters.js';

const numbers = (length: number) =>
  fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: length, maxLength: length });

test('resample takes row after row, and the samples where each stands', () => {
  fc.assert(
    fc.property(
      fc
        .record({
          rounds: fc.integer({ min: 1, max: 3 }),
          rows: fc.integer({ min: 1, max: 5 }),
          phase: fc.nat({ max: 4 }),
          step: fc.integer({ min: 1, max: 12 }),
          count: fc.integer({ min: 1, max: 20 }),
        })
        .chain((shape) =>
          fc.record({
            shape: fc.constant(shape),
            taps: numbers(shape.rows * shape.rounds * ROW_STEP),
            samples: numbers(shape.rounds * ROW_STEP + 13 * 20),
          }),
        ),
      ({ shape: { rounds, rows, phase, step, count }, taps, samples }) => {
        const { memory, resample } = filterKernels(1000);
        const length = rounds * ROW_STEP;
        const [out, rowsAt, at] = [0, 32, 32 + taps.length];
        memory.set(taps, rowsAt);
        memory.set(samples, at);
        const first = phase % rows;
        resample(
          4 * out,
          4 * (out + count),
          4 * (rowsAt + first * length),
          4 * rowsAt,
          4 * (rowsAt + taps.length),
          4 * at,
          4 * (step % rows) * length,
          4 * Math.floor(step / rows),
          4 * length,
        );
        for (let i = 0; i < count; i++) {
          const row = (first + i * step) % rows;
          const from = Math.floor((first + i * step) / rows);
          let wanted = 0;
          for (let k = 0; k < length; k++) wanted += taps[row * length + k]! * samples[from + k]!;
          expect(memory[out + i]).toBeCloseTo(wanted, 4);
        }
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
