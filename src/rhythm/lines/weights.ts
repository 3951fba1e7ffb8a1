/**
 * The weights of the evidence for a line in written music, in log odds that a marked phrase begins: fitted by
 * tests/evaluate/lines/fit.ts to the even songs of the pop melodies with phrases marked by hand (Dai et al. 2020).
 */
import type { BoundaryEvidence } from './evidence.js';

export const BAR_WEIGHTS: Readonly<Record<keyof BoundaryEvidence, number>> = {
  interval: 0.52,
  bar: 0.38,
  rare: 2.15,
  leap: 1,
  repeatBegins: 0.93,
  repeatEnds: 0.37,
  repeatInBars: 0.95,
  barsBegin: 3.59,
  barsEnd: 3.23,
  pickup: 0.43,
};

/** What a note must show before it is likelier to begin a phrase than not. */
export const BAR_BIAS = -7.3;
