import { type PackedSamples, unpack } from '../../src/dsp/packed.js';

/** All samples of what is packed. */
export function unpacked(packed: PackedSamples): Float32Array {
  const samples = new Float32Array(packed.length);
  unpack(packed, 0, samples);
  return samples;
}
