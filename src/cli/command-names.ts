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

/** Most letters that may differ for a word to count as mistyped (our choice), and the share of its length. */
const MOST_EDITS = 2;
const EDITS_PER_LETTER = 0.4;

/** The command that `word` resembles, or null. */
export function similarCommand(word: string): string | null {
  const [best] = COMMAND_NAMES.map((known) => ({ known, edits: editDistance(word.toLowerCase(), known) }))
    .filter(({ known, edits }) => edits <= Math.min(MOST_EDITS, EDITS_PER_LETTER * known.length))
    .sort((a, b) => a.edits - b.edits);
  return best?.known ?? null;
}

/** Insertions, deletions and replacements that make `a` into `b` (Levenshtein 1966; Wagner & Fischer 1974). */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replaced = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replaced, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
