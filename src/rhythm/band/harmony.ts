/** Sums of the chroma up to every frame: the mean over any stretch in a step. */
export interface HarmonySums {
  readonly frameCount: number;
  /** Twelve a frame, frameCount + 1 frames. */
  readonly sums: Float64Array;
}

const CLASSES = 12;
/** Frames below which a stretch is too short to have a harmony. */
const SHORTEST = 5;
/** Added to the squares, so that silence is like anything. */
const LEAST = 1e-6;

export function harmonySums(chroma: Float32Array): HarmonySums {
  const sums = new Float64Array(chroma.length + CLASSES);
  for (let i = 0; i < chroma.length; i++) sums[i + CLASSES] = sums[i]! + chroma[i]!;
  return { frameCount: chroma.length / CLASSES, sums };
}

/**
 * How much the harmony changes at a frame: 1 − the correlation of the mean chroma of `reach` frames before with that
 * of as many after, 0 for no change up to 2 for the opposite; 0 where either is too short.
 */
export function harmonyChange({ frameCount, sums }: HarmonySums, frame: number, reach: number): number {
  const kept = (at: number) => Math.min(frameCount, Math.max(0, Math.round(at)));
  const from = kept(frame - reach);
  const middle = kept(frame);
  const to = kept(frame + reach);
  if (middle - from < SHORTEST || to - middle < SHORTEST) return 0;
  const span = (start: number, end: number, k: number) =>
    (sums[CLASSES * end + k]! - sums[CLASSES * start + k]!) / (end - start);
  let meanBefore = 0;
  let meanAfter = 0;
  for (let k = 0; k < CLASSES; k++) {
    meanBefore += span(from, middle, k) / CLASSES;
    meanAfter += span(middle, to, k) / CLASSES;
  }
  let squareBefore = LEAST;
  let squareAfter = LEAST;
  let product = 0;
  for (let k = 0; k < CLASSES; k++) {
    const before = span(from, middle, k) - meanBefore;
    const after = span(middle, to, k) - meanAfter;
    squareBefore += before * before;
    squareAfter += after * after;
    product += before * after;
  }
  return 1 - product / Math.sqrt(squareBefore * squareAfter);
}
