/** Random numbers 0..1 (linear congruential; Numerical Recipes in C 1992, section 7.1). */
export function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
