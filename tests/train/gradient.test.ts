import { expect, test } from 'vitest';
import { type Random, seededRandom } from '../../fixtures/maker/random.js';
import { activationsFor, forward, type Layer, type Perceptron } from '../../src/pitch/perceptron.js';
import { createAdam } from './adam.js';
import { addGradient, type Example, emptyLike, workspaceFor } from './gradient.js';

const floats = (length: number, value: () => number) => Float32Array.from({ length }, value);

function network(sizes: readonly number[], random: Random): Perceptron {
  return {
    layers: sizes.slice(1).map(
      (outputs, l): Layer => ({
        inputs: sizes[l],
        outputs,
        weights: floats(sizes[l] * outputs, () => 0.7 * random.gauss()),
        biases: floats(outputs, () => 0.3 * random.gauss()),
      }),
    ),
  };
}

const random = seededRandom(5);
// Sizes that are no multiples of four, so that the rows left over by blocks of four are tested too.
const net = network([14, 11, 10, 3], random);
const example: Example = {
  input: floats(14, () => random.gauss()),
  wanted: Float32Array.of(1, 0.3, 0),
  weights: Float32Array.of(2, 0.6, 0),
  kept: floats(11, () => (random.chance(0.2) ? 0 : 1.25)),
};
const arrays = (of: Perceptron) => of.layers.flatMap(({ weights, biases }) => [weights, biases]);
const lossNow = () => addGradient(net, example, emptyLike(net), workspaceFor(net));

test('the gradient is the slope of the loss along every weight and bias (central differences)', () => {
  const gradient = emptyLike(net);
  addGradient(net, example, gradient, workspaceFor(net));
  let compared = 0;
  arrays(net).forEach((parameter, p) => {
    for (let k = 0; k < parameter.length; k++) {
      const kept = parameter[k];
      parameter[k] = kept + 1e-2;
      const [above, high] = [lossNow(), parameter[k]];
      parameter[k] = kept - 1e-2;
      const [below, low] = [lossNow(), parameter[k]];
      parameter[k] = kept;
      expect(arrays(gradient)[p][k]).toBeCloseTo((above - below) / (high - low), 3);
      if (Math.abs(above - below) > 1e-4) compared++;
    }
  });
  expect(compared).toBeGreaterThan(50);
});

test('without dropped units the outputs are those that the program computes', () => {
  const all = { ...example, kept: new Float32Array(11).fill(1) };
  const outputs = forward(net, example.input, activationsFor(net));
  const expected = [0, 1].reduce((sum, o) => {
    const [q, y] = [outputs[o], example.wanted[o]];
    return sum - example.weights[o] * (y * Math.log(q) + (1 - y) * Math.log(1 - q));
  }, 0);
  expect(addGradient(net, all, emptyLike(net), workspaceFor(net))).toBeCloseTo(expected, 5);
});

test('an output of weight 0 has no part in loss or gradient, whatever was wanted', () => {
  const gradients = [0, 1].map((wanted) => {
    const gradient = emptyLike(net);
    const other = { ...example, wanted: Float32Array.of(1, 0.3, wanted) };
    const loss = addGradient(net, other, gradient, workspaceFor(net));
    return { loss, gradient };
  });
  expect(gradients[0]).toEqual(gradients[1]);
});

test('gradients add up over examples', () => {
  const gradient = emptyLike(net);
  addGradient(net, example, gradient, workspaceFor(net));
  const once = Float32Array.from(gradient.layers[2].weights);
  addGradient(net, example, gradient, workspaceFor(net));
  gradient.layers[2].weights.forEach((g, k) => void expect(g).toBeCloseTo(2 * once[k], 6));
});

test('the first step of Adam moves every parameter by the rate, against the sign of its gradient', () => {
  // Kingma & Ba 2015, section 2.1: with corrected averages of one value the step is rate · g / |g|.
  const parameters = [Float32Array.of(1, 1, 1)];
  createAdam(parameters).step([Float32Array.of(5, -0.001, 0)], 0.1);
  expect([...parameters[0]].map((v) => Math.round(v * 1e4) / 1e4)).toEqual([0.9, 1.1, 1]);
});

test('Adam finds the lowest point of a bowl', () => {
  const at = Float32Array.of(3, -2);
  const adam = createAdam([at]);
  for (let i = 0; i < 2000; i++) adam.step([Float32Array.of(2 * (at[0] - 1), 20 * (at[1] - 0.5))], 0.01);
  expect(at[0]).toBeCloseTo(1, 2);
  expect(at[1]).toBeCloseTo(0.5, 2);
});
