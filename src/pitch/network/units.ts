/** Lowest level that counts, in decibels: 0 in the networks' units. */
const LOWEST_DB = -80;
/** Most that is told, in the networks' units. */
const MOST = 1.5;

/** A level in decibels as the networks take it: −80 dB is 0, 0 dB is 1, at most 1.5. */
export function levelUnits(db: number): number {
  return Math.min(Math.max((db - LOWEST_DB) / -LOWEST_DB, 0), MOST);
}

/** The probability whose log odds, as a network's head gives them, are `x`. */
export function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}
