/** Examples → a trained network. Pure: the same examples and seed give the same network on the same machine. */
import { type Random, seededRandom } from '../../fixtures/maker/random.js';
import { CONTEXT_SIZE, contextOf } from '../../src/pitch/context.js';
import type { Layer, Perceptron } from '../../src/pitch/perceptron.js';
import { createAdam } from './adam.js';
import { augment } from './augment.js';
import { type Examples, shuffle, wantedAt } from './dataset.js';
import { addGradient, emptyLike, type Workspace, workspaceFor } from './gradient.js';
import { OUTPUTS } from './targets.js';

/** Units of the two hidden layers. */
const HIDDEN = [32, 16];
const BATCH = 256;
/** Learning rate at the start; it falls along half a cosine to the lowest (Loshchilov & Hutter 2017). */
const RATE = 2e-3;
const LOWEST_RATE = 1e-5;
/** Share of the first hidden layer that is left out at each example. */
const DROPPED = 0.1;
/** Pull of the weights, not the biases, towards 0. */
const DECAY = 1e-5;
/** Onsets are rare and matter most. */
const OUTPUT_WEIGHTS = [2, 1, 1];
/** About the logarithm of the odds of an onset, so that the first steps need not learn how rare they are. */
const ONSET_BIAS = -2;

export interface TrainOptions {
  readonly epochs: number;
  readonly seed: number;
  /** Called after each pass over the examples with its number from 1 and the mean loss of an example. */
  readonly onEpoch: (epoch: number, loss: number) => void;
}

/** Trains from random weights, by Adam in batches of 256; the rest of an epoch that fills no batch is left out. */
export function train(examples: Examples, { epochs, seed, onEpoch }: TrainOptions): Perceptron {
  const random = seededRandom(seed);
  const net = randomNetwork([CONTEXT_SIZE, ...HIDDEN, OUTPUTS], random);
  const gradient = emptyLike(net);
  const parameters = arraysOf(net);
  const gradients = arraysOf(gradient);
  const adam = createAdam(parameters);
  const run = exampleRunner(examples, net, gradient, random);
  const order = Int32Array.from({ length: examples.frame.length }, (_, i) => i);
  const batches = Math.floor(order.length / BATCH);
  if (batches === 0) throw new RangeError(`${order.length} examples are fewer than one batch of ${BATCH}`);
  for (let epoch = 0; epoch < epochs; epoch++) {
    shuffle(order, random);
    let loss = 0;
    for (let batch = 0; batch < batches; batch++) {
      for (const g of gradients) g.fill(0);
      for (let i = batch * BATCH; i < (batch + 1) * BATCH; i++) loss += run(order[i]);
      finishGradient(gradients, parameters);
      adam.step(gradients, rateAt((epoch * batches + batch + 1) / (epochs * batches)));
    }
    onEpoch(epoch + 1, loss / (batches * BATCH));
  }
  return net;
}

/** Prepares one example (context, small changes, dropped units), adds its gradient, gives its loss. */
function exampleRunner(
  { parts, part, frame }: Examples,
  net: Perceptron,
  gradient: Perceptron,
  random: Random,
) {
  const work: Workspace = workspaceFor(net);
  const example = {
    input: new Float32Array(CONTEXT_SIZE),
    wanted: new Float32Array(OUTPUTS),
    weights: new Float32Array(OUTPUTS),
    kept: new Float32Array(HIDDEN[0]),
  };
  return (k: number): number => {
    const { features } = parts[part[k]];
    contextOf(features.levels, features.path, frame[k], example.input);
    augment(example.input, random);
    wantedAt(parts[part[k]], frame[k], example.wanted, example.weights);
    for (let o = 0; o < OUTPUTS; o++) example.weights[o] *= OUTPUT_WEIGHTS[o];
    for (let u = 0; u < example.kept.length; u++) {
      example.kept[u] = random.chance(DROPPED) ? 0 : 1 / (1 - DROPPED);
    }
    return addGradient(net, example, gradient, work);
  };
}

/** Sum → mean over the batch, and the pull of the weights towards 0. Weights are even entries, biases odd ones. */
function finishGradient(gradients: readonly Float32Array[], parameters: readonly Float32Array[]): void {
  gradients.forEach((gradient, p) => {
    const decay = p % 2 === 0 ? DECAY : 0;
    const parameter = parameters[p];
    for (let k = 0; k < gradient.length; k++) gradient[k] = gradient[k] / BATCH + decay * parameter[k];
  });
}

function rateAt(done: number): number {
  return LOWEST_RATE + RATE * 0.5 * (1 + Math.cos(Math.PI * done));
}

/** Weights and biases by turns, layer after layer; not copies. */
function arraysOf(net: Perceptron): Float32Array[] {
  return net.layers.flatMap(({ weights, biases }) => [weights, biases]);
}

/** Weights normal with variance 2 / inputs (He et al. 2015, section 2.2). */
function randomNetwork(sizes: readonly number[], random: Random): Perceptron {
  const layers = sizes.slice(1).map((outputs, l): Layer => {
    const inputs = sizes[l];
    const weights = Float32Array.from(
      { length: inputs * outputs },
      () => Math.sqrt(2 / inputs) * random.gauss(),
    );
    return { inputs, outputs, weights, biases: new Float32Array(outputs) };
  });
  layers[layers.length - 1].biases[0] = ONSET_BIAS;
  return { layers };
}
