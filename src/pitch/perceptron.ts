/**
 * A small feed-forward network: inputs → two hidden layers (rectified linear) → outputs (logistic).
 * Plain typed arrays: at ten thousand weights a general inference engine would cost more than it saves.
 */
export interface Layer {
  readonly inputs: number;
  readonly outputs: number;
  /** Row-major, one row an output. */
  readonly weights: Float32Array;
  readonly biases: Float32Array;
}

export interface Perceptron {
  readonly layers: readonly Layer[];
}

/** Work space for one network: the activations of every layer. */
export function activationsFor(net: Perceptron): Float32Array[] {
  return net.layers.map((l) => new Float32Array(l.outputs));
}

/** Runs the network; returns the last layer's activations (each 0..1), which stay valid until the next call. */
export function forward(net: Perceptron, input: Float32Array, activations: Float32Array[]): Float32Array {
  let x = input;
  const last = net.layers.length - 1;
  for (let l = 0; l <= last; l++) {
    const { inputs, outputs, weights, biases } = net.layers[l];
    const y = activations[l];
    for (let o = 0; o < outputs; o++) {
      let sum = biases[o];
      const row = o * inputs;
      for (let k = 0; k < inputs; k++) sum += weights[row + k] * x[k];
      y[o] = l === last ? 1 / (1 + Math.exp(-sum)) : Math.max(sum, 0);
    }
    x = y;
  }
  return x;
}

/** A layer as it is stored: weights row by row, then biases, as little-endian 32-bit floats in base64. */
export interface PackedLayer {
  readonly inputs: number;
  readonly outputs: number;
  readonly values: string;
}

export function unpack(packed: readonly PackedLayer[]): Perceptron {
  return {
    layers: packed.map(({ inputs, outputs, values }) => {
      const bytes = Buffer.from(values, 'base64');
      const all = new Float32Array(inputs * outputs + outputs);
      for (let k = 0; k < all.length; k++) all[k] = bytes.readFloatLE(4 * k);
      return {
        inputs,
        outputs,
        weights: all.subarray(0, inputs * outputs),
        biases: all.subarray(inputs * outputs),
      };
    }),
  };
}

/** Packs a network for storage: the inverse of `unpack`. */
export function pack(net: Perceptron): PackedLayer[] {
  return net.layers.map(({ inputs, outputs, weights, biases }) => {
    const bytes = Buffer.alloc(4 * (weights.length + biases.length));
    weights.forEach((w, k) => void bytes.writeFloatLE(w, 4 * k));
    biases.forEach((b, k) => void bytes.writeFloatLE(b, 4 * (weights.length + k)));
    return { inputs, outputs, values: bytes.toString('base64') };
  });
}
