/** The names of the commands, and what a mistyped word was probably meant to be. */
export const COMMAND_NAMES = [
  'notes',
  'scales',
  'transpose',
  'compare',
  'guide',
  'listen',
  'grade',
  'batch',
  'merge',
  'completions',
  'doctor',
] as const;

/** What a mistyped first word may have been: a command, or `help`. */
const FIRST_WORDS: readonly string[] = [...COMMAND_NAMES, 'help'];

/** Most letters that may differ for a word to count as mistyped (our choice), and the share of its length. */
const MOST_EDITS = 2;
const EDITS_PER_LETTER = 0.4;

/** The command that `word` resembles, or null. */
export function similarCommand(word: string): string | null {
  const [best] = FIRST_WORDS.map((known) => ({ known, edits: editDistance(word.toLowerCase(), known) }))
    .filter(({ known, edits }) => edits <= Math.min(MOST_EDITS, EDITS_PER_LETTER * known.length))
    .sort((a, b) => a.edits - b.edits);
  return best?.known ?? null;
}

/**
 * Insertions, deletions, replacements and swaps of neighbours that make `a` into `b` (Damerau 1964; computed as Wagner &
 * Fischer 1974, with one more step for swaps).
 */
function editDistance(a: string, b: string): number {
  let before: readonly number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      const isSwap = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      const swapped = isSwap ? before[j - 2]! + 1 : replaced;
      next.push(Math.min(replaced, swapped, row[j]! + 1, next[j - 1]! + 1));
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}
