/** Which earlier line a line repeats. */

/** A repeat of fewer notes says nothing. */
const LEAST_NOTES = 4;

/** Notes that may differ: one in a short line, two in a line of eight or more, a fifth of a long one, four at most. */
function allowedDifferences(count: number): number {
  return Math.max(count >= 8 ? 2 : 1, Math.min(Math.floor(count / 5), 4));
}

/**
 * Notes to change, leave out or put in to make one sequence of pitches the other, moved to any key: edit
 * distance (Levenshtein 1966) at the transposition that suits best.
 */
function differences(a: readonly number[], b: readonly number[]): number {
  // So many changes leave one of the first notes as it is, one more than they are, and move it by as many places at most.
  const changes = allowedDifferences(a.length);
  const shifts = new Set(
    a.slice(0, changes + 1).flatMap((x) => b.slice(0, 2 * changes + 1).map((y) => y - x)),
  );
  let least = Number.POSITIVE_INFINITY;
  for (const shift of shifts) least = Math.min(least, editDistance(a, b, shift));
  return least;
}

function editDistance(a: readonly number[], b: readonly number[], shift: number): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const substitution = row[j - 1]! + (a[i - 1]! + shift === b[j - 1]! ? 0 : 1);
      next.push(Math.min(substitution, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}

/**
 * Number (from 1) of the earlier line that line `index` repeats, in any key, or null: the one with the fewest
 * differences, the first of equals. `lines` holds the MIDI numbers of each line's notes.
 */
export function repeatedLine(lines: readonly (readonly number[])[], index: number): number | null {
  const own = lines[index]!;
  if (own.length < LEAST_NOTES) return null;
  let like: number | null = null;
  let least = allowedDifferences(own.length) + 1;
  for (let i = 0; i < index; i++) {
    const earlier = lines[i]!;
    if (earlier.length < LEAST_NOTES || Math.abs(earlier.length - own.length) >= least) continue;
    const distance = differences(earlier, own);
    if (distance < least && distance <= allowedDifferences(earlier.length)) {
      least = distance;
      like = i + 1;
    }
  }
  return like;
}
