/** Numbers in 0..1, the same ones for the same seed (a linear congruential generator, Numerical Recipes, ch. 7). */
export function seeded(seed: number): () => number {
  let state = (seed * 2_654_435_761 + 12_345) >>> 0;
  const next = () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  next();
  return next;
}
