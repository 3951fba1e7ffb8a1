/** How many columns of a terminal a text takes, and texts cut to fit. For names of files; our own words are all narrow. */

/**
 * Letters of two columns: those that Unicode's UAX #11 calls wide or full-width (Hangul, kana, Han and their signs), and
 * signs that are pictures.
 */
const WIDE =
  /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\ua960-\ua97f\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff01-\uff60\uffe0-\uffe6\u{20000}-\u{3fffd}]|\p{Emoji_Presentation}/u;
/** Marks over and under the letter before them, joiners, and marks that choose how it looks. */
const NONE = /\p{Mark}|\p{Format}/u;
const ELLIPSIS = '…';

export function textWidth(text: string): number {
  let columns = 0;
  for (const letter of text) columns += letterWidth(letter);
  return columns;
}

/** The text, or its start with `…` behind it in `columns` columns. */
export function cutEnd(text: string, columns: number): string {
  if (textWidth(text) <= columns) return text;
  return `${lettersThatFit([...text], columns - 1).join('')}${ELLIPSIS}`;
}

/** The text, or its end with `…` before it: of a long path the name of the file is what tells. */
export function cutStart(text: string, columns: number): string {
  if (textWidth(text) <= columns) return text;
  const end = lettersThatFit([...text].reverse(), columns - 1).reverse();
  return `${ELLIPSIS}${end.join('')}`;
}

function lettersThatFit(letters: readonly string[], columns: number): string[] {
  let left = columns;
  const past = letters.findIndex((letter) => {
    left -= letterWidth(letter);
    return left < 0;
  });
  return letters.slice(0, past < 0 ? undefined : past);
}

function letterWidth(letter: string): number {
  if (letter < '\u0300') return 1;
  return NONE.test(letter) ? 0 : WIDE.test(letter) ? 2 : 1;
}
