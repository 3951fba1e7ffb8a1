/** Periodic Hann window of `size` samples: w[n] = ½ − ½·cos(2πn/size). */
export function hannWindow(size: number): Float64Array {
  return Float64Array.from({ length: size }, (_, n) => 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / size));
}
