/** A pair of indices: the reference note and the estimated note matched with it. */
export interface Pair {
  readonly reference: number;
  readonly estimate: number;
}

/**
 * Maximum one-to-one matching of reference notes with estimated notes.
 *
 * Each reference note in turn takes a free partner, or asks the holder of one of its partners to move to
 * another (augmenting paths: Kuhn 1955; Berge 1957 shows that the matching is largest when no such path is
 * left). Greedy matching can lose a pair where two notes want the same partner; this cannot, so the order of
 * notes never changes the size of the result.
 *
 * @param candidates for each reference note the indices of the estimated notes that may be matched with it
 * @param estimateCount number of estimated notes; every index in `candidates` is under it
 * @returns the pairs, in order of the reference
 */
export function maximumMatching(candidates: readonly (readonly number[])[], estimateCount: number): Pair[] {
  const holder = new Int32Array(estimateCount).fill(-1);

  function place(reference: number, asked: Uint8Array): boolean {
    for (const estimate of candidates[reference]!) {
      if (asked[estimate] === 1) continue;
      asked[estimate] = 1;
      if (holder[estimate] === -1 || place(holder[estimate]!, asked)) {
        holder[estimate] = reference;
        return true;
      }
    }
    return false;
  }

  for (let reference = 0; reference < candidates.length; reference++) {
    place(reference, new Uint8Array(estimateCount));
  }
  const pairs: Pair[] = [];
  holder.forEach((reference, estimate) => {
    if (reference >= 0) pairs.push({ reference, estimate });
  });
  return pairs.sort((a, b) => a.reference - b.reference);
}
