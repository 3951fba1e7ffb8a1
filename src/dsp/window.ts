const known = new Map<number, Float64Array>();

/** Periodic Hann window of `size` samples: w[n] = ½ − ½·cos(2πn/size). The same array for all, only to be read. */
export function hannWindow(size: number): Float64Array {
  const found = known.get(size);
  if (found !== undefined) return found;
  const window = new Float64Array(size);
  for (let n = 0; n < size; n++) window[n] = 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / size);
  known.set(size, window);
  return window;
}
