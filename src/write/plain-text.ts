/**
 * Control characters, line and paragraph separators, and the marks that turn the direction of what follows (Unicode
 * Standard Annex 9, section 2): a terminal obeys them, and a line of ours would be cut or read backwards.
 */
const UNSEEN = /[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu;

/** Text that others wrote, such as names of files, as part of one line: what cannot be seen becomes a blank. */
export function plainText(text: string): string {
  return text.replace(UNSEEN, ' ').trimEnd();
}
