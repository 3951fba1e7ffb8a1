/**
 * The window of J. F. Kaiser (1974) and its design formulas, as in Oppenheim & Schafer, "Discrete-Time Signal
 * Processing", 7.5.3.
 */
export interface KaiserWindow {
  /** Order of a filter that has the attenuation outside its transition band (eq. 7.76); not rounded. */
  readonly order: number;
  /** Value at a `position` of −1..1 of half the window's length, 1 in the middle; 0 beyond its ends. */
  at(position: number): number;
}

/**
 * @param attenuationDb of what lies beyond the transition band, at least 50 (below, beta has another formula)
 * @param transition width of the transition band, cycles a sample
 */
export function kaiserWindow(attenuationDb: number, transition: number): KaiserWindow {
  const beta = 0.1102 * (attenuationDb - 8.7); // eq. 7.75
  const peak = besselI0(beta);
  return {
    order: (attenuationDb - 8) / (2.285 * 2 * Math.PI * transition),
    at: (position) => valueAt(position, beta, peak),
  };
}

function valueAt(position: number, beta: number, peak: number): number {
  const inside = 1 - position * position;
  return inside <= 0 ? 0 : besselI0(beta * Math.sqrt(inside)) / peak;
}

/** Modified Bessel function of the first kind, order 0, by its power series (Abramowitz & Stegun 9.6.10). */
function besselI0(x: number): number {
  const quarter = (x * x) / 4;
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-12 * sum; k++) {
    term *= quarter / (k * k);
    sum += term;
  }
  return sum;
}
