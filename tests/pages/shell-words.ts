/** Words of a line of shell, quotes taken off, and its signs between them, as far as the pages need them. */
export function shellWords(line: string): string[] {
  return (line.match(/(?:'[^']*'|"[^"]*"|[^\s'"|;&<>])+|[|;&]+|\d?>+&?\d?|</g) ?? []).map((word) =>
    word.replace(/'([^']*)'|"([^"]*)"/g, '$1$2'),
  );
}
