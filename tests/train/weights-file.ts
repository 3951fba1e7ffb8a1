/** The text of src/pitch/voice-weights.ts. */
import { type Perceptron, pack } from '../../src/pitch/perceptron.js';

export function weightsFile(net: Perceptron): string {
  const layers = pack(net).map(
    ({ inputs, outputs, values }) =>
      `  {\n    inputs: ${inputs},\n    outputs: ${outputs},\n    values:\n      '${values}',\n  },\n`,
  );
  return `import type { PackedLayer } from './perceptron.js';

/** Weights of the voice network, written by the training program; see docs/model-card.md. */
export const VOICE_WEIGHTS: readonly PackedLayer[] = [
${layers.join('')}];
`;
}
