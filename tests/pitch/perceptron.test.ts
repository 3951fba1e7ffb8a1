import fc from 'fast-check';
import { expect, test } from 'vitest';
import { activationsFor, forward, type Perceptron, pack, unpack } from '../../src/pitch/perceptron.js';

/** Two inputs, two hidden units, one output. */
const NET: Perceptron = {
  layers: [
    { inputs: 2, outputs: 2, weights: Float32Array.of(1, -2, 0.5, 1), biases: Float32Array.of(0.5, -1) },
    { inputs: 2, outputs: 1, weights: Float32Array.of(3, -2), biases: Float32Array.of(1) },
  ],
};
const run = (...input: number[]) => forward(NET, Float32Array.from(input), activationsFor(NET))[0];

test('two inputs, two hidden units, one output, by hand', () => {
  // Hidden: max(0, 1 − 4 + 0.5) = 0 and max(0, 0.5 + 2 − 1) = 1.5; output: 1/(1 + e^−(−3 + 1)) = 1/(1 + e²).
  expect(run(1, 2)).toBeCloseTo(0.119203, 6);
  // Hidden: 2.5 and max(0, 1 − 1) = 0; output: 1/(1 + e^−8.5).
  expect(run(2, 0)).toBeCloseTo(0.999797, 6);
  // Hidden: 0.5 and 0 (from −1); output: 1/(1 + e^−2.5).
  expect(run(0, 0)).toBeCloseTo(0.924142, 6);
});

test('a single layer is logistic, one row an output', () => {
  const layer = { inputs: 1, outputs: 2, weights: Float32Array.of(1, -1), biases: Float32Array.of(0, 1) };
  const net = { layers: [layer] };
  const out = forward(net, Float32Array.of(1), activationsFor(net));
  expect(out[0]).toBeCloseTo(0.731059, 6); // 1/(1 + e^−1)
  expect(out[1]).toBeCloseTo(0.5, 6);
});

test('work space that was used before changes nothing', () => {
  const space = activationsFor(NET);
  forward(NET, Float32Array.of(5, 5), space);
  expect(forward(NET, Float32Array.of(1, 2), space)[0]).toBe(run(1, 2));
});

test('a packed layer is its weights, then its biases, as little-endian floats in base64', () => {
  // 1 is 3F800000 and −2 is C0000000 (IEEE 754 single), lowest byte first: 00 00 80 3F 00 00 00 C0.
  const net: Perceptron = {
    layers: [{ inputs: 1, outputs: 1, weights: Float32Array.of(1), biases: Float32Array.of(-2) }],
  };
  expect(pack(net)).toEqual([{ inputs: 1, outputs: 1, values: 'AACAPwAAAMA=' }]);
});

test('unpacking a packed network gives the network', () => {
  expect(unpack(pack(NET))).toEqual(NET);
  const sizes = fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 2, maxLength: 4 });
  fc.assert(
    fc.property(sizes, fc.infiniteStream(fc.float({ noNaN: true })), (widths, numbers) => {
      const floats = (length: number) => Float32Array.from({ length }, () => numbers.next().value as number);
      const layers = widths.slice(1).map((outputs, l) => {
        const inputs = widths[l]!;
        return { inputs, outputs, weights: floats(inputs * outputs), biases: floats(outputs) };
      });
      expect(unpack(pack({ layers }))).toEqual({ layers });
    }),
    { numRuns: 50 },
  );
});
