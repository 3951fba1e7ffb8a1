import { textWidth } from './text-width.js';

/** Breaks words into lines of at most `width` columns; the first begins with `first`, the others with `next`. */
export function wrap(text: string, width: number, first: string, next: string): string[] {
  const lines: string[] = [];
  let line = first;
  let columns = textWidth(first);
  let empty = true;
  for (const word of text.split(' ')) {
    const own = textWidth(word);
    if (!empty && columns + 1 + own > width) {
      lines.push(line);
      line = next;
      columns = textWidth(next);
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    columns += empty ? own : own + 1;
    empty = false;
  }
  return [...lines, line];
}
