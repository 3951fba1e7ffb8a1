/**
 * The loss of a perceptron at one example and its gradient (back-propagation, Rumelhart, Hinton & Williams 1986).
 * Same layers as src/pitch/perceptron.ts: rectified linear, the last one logistic. The loss is the cross-entropy
 * of each output, weighted.
 */
import type { Layer, Perceptron } from '../../src/pitch/perceptron.js';

/** One example; nothing here is kept or changed. */
export interface Example {
  readonly input: Float32Array;
  /** 0..1 an output. */
  readonly wanted: Float32Array;
  /** Weight of each output in the loss. */
  readonly weights: Float32Array;
  /** Factor of each unit of the first hidden layer: 0 where it is dropped (Srivastava et al. 2014). */
  readonly kept: Float32Array;
}

/** Values and their derivatives, one array a layer. */
export interface Workspace {
  readonly values: readonly Float32Array[];
  readonly slopes: readonly Float32Array[];
}

export function workspaceFor(net: Perceptron): Workspace {
  const arrays = () => net.layers.map((layer) => new Float32Array(layer.outputs));
  return { values: arrays(), slopes: arrays() };
}

/** A network of the same shape with every number 0: a place for gradients. */
export function emptyLike(net: Perceptron): Perceptron {
  return {
    layers: net.layers.map((layer) => ({
      ...layer,
      weights: new Float32Array(layer.weights.length),
      biases: new Float32Array(layer.biases.length),
    })),
  };
}

/** Keeps the logarithm finite. */
const TINY = 1e-7;

/** Adds the gradient at one example to `gradient` and returns the loss there. */
export function addGradient(
  net: Perceptron,
  example: Example,
  gradient: Perceptron,
  { values, slopes }: Workspace,
): number {
  const last = net.layers.length - 1;
  for (let l = 0; l <= last; l++) {
    const y = values[l];
    weightedSums(net.layers[l], l === 0 ? example.input : values[l - 1], y);
    if (l < last) for (let o = 0; o < y.length; o++) y[o] = Math.max(0, y[o]);
    if (l === 0) for (let o = 0; o < y.length; o++) y[o] *= example.kept[o];
  }
  const loss = outputSlopes(values[last], example, slopes[last]);
  for (let l = last; l >= 0; l--) {
    const below = l === 0 ? example.input : values[l - 1];
    addOuter(slopes[l], below, gradient.layers[l]);
    if (l > 0) hiddenSlopes(net.layers[l], slopes[l], below, slopes[l - 1]);
    // A unit that passed was multiplied by its factor; one that did not has a value, and so a slope, of 0.
    if (l === 1) for (let k = 0; k < slopes[0].length; k++) slopes[0][k] *= example.kept[k];
  }
  return loss;
}

/** Turns sums into outputs; slopes of the loss by the sums; the loss. */
function outputSlopes(sums: Float32Array, { wanted, weights }: Example, slopes: Float32Array): number {
  let loss = 0;
  for (let o = 0; o < sums.length; o++) {
    const q = 1 / (1 + Math.exp(-sums[o]));
    slopes[o] = weights[o] * (q - wanted[o]);
    if (weights[o] === 0) continue;
    loss -= weights[o] * (wanted[o] * Math.log(q + TINY) + (1 - wanted[o]) * Math.log(1 - q + TINY));
  }
  return loss;
}

/** Biases plus weights times inputs. Four rows at a time: their sums do not wait for each other. */
function weightedSums({ inputs, outputs, weights, biases }: Layer, x: Float32Array, out: Float32Array): void {
  let o = 0;
  for (; o + 4 <= outputs; o += 4) {
    const [r0, r1, r2, r3] = [o * inputs, (o + 1) * inputs, (o + 2) * inputs, (o + 3) * inputs];
    let [s0, s1, s2, s3] = [biases[o], biases[o + 1], biases[o + 2], biases[o + 3]];
    for (let k = 0; k < inputs; k++) {
      const v = x[k];
      s0 += weights[r0 + k] * v;
      s1 += weights[r1 + k] * v;
      s2 += weights[r2 + k] * v;
      s3 += weights[r3 + k] * v;
    }
    out[o] = s0;
    out[o + 1] = s1;
    out[o + 2] = s2;
    out[o + 3] = s3;
  }
  for (; o < outputs; o++) {
    let sum = biases[o];
    for (let k = 0; k < inputs; k++) sum += weights[o * inputs + k] * x[k];
    out[o] = sum;
  }
}

/** Adds the outer product of slopes and inputs; rows of units that do not matter here are skipped. */
function addOuter(slopes: Float32Array, x: Float32Array, { inputs, weights, biases }: Layer): void {
  for (let o = 0; o < slopes.length; o++) {
    const slope = slopes[o];
    if (slope === 0) continue;
    biases[o] += slope;
    const row = o * inputs;
    for (let k = 0; k < inputs; k++) weights[row + k] += slope * x[k];
  }
}

/** Slopes of the layer below, through the weights; 0 where a unit did not pass anything on. */
function hiddenSlopes(
  { inputs, outputs, weights }: Layer,
  above: Float32Array,
  values: Float32Array,
  slopes: Float32Array,
): void {
  slopes.fill(0);
  for (let o = 0; o < outputs; o++) {
    const slope = above[o];
    if (slope === 0) continue;
    for (let k = 0; k < inputs; k++) slopes[k] += slope * weights[o * inputs + k];
  }
  for (let k = 0; k < inputs; k++) if (values[k] <= 0) slopes[k] = 0;
}
