/** XML as a tree, and its text. */

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Text, or elements in order. */
  readonly content: string | readonly Element[];
}

/** An element; without content it is an empty one. */
export function element(
  name: string,
  content: string | number | readonly Element[] = [],
  attributes: Readonly<Record<string, string>> = {},
): Element {
  return { name, attributes, content: typeof content === 'number' ? String(content) : content };
}

/** The element as text, two blanks deeper for each level, ending with a newline. */
export function xmlText(node: Element, depth = 0): string {
  const parts: string[] = [];
  write(node, depth, parts);
  // Joined at the end: text that grows by little pieces is kept as those pieces, in several times the memory.
  return parts.join('');
}

function write({ name, attributes, content }: Element, depth: number, parts: string[]): void {
  const indent = '  '.repeat(depth);
  parts.push(indent, '<', name);
  for (const key in attributes) parts.push(' ', key, '="', escaped(attributes[key]!), '"');
  if (typeof content === 'string') parts.push('>', escaped(content));
  else if (content.length === 0) {
    parts.push('/>\n');
    return;
  } else {
    parts.push('>\n');
    for (const child of content) write(child, depth + 1, parts);
    parts.push(indent);
  }
  parts.push('</', name, '>\n');
}

/** What XML 1.0 (5th edition, 2.2 "Characters") allows, less the control characters; halves of a pair never stand alone. */
const FORBIDDEN = /[\p{Cc}\p{Cs}\uFFFE\uFFFF]+/gu;

/** Most texts are numbers and words of the standard, which nothing in this can touch. */
const PLAIN = /^[\w .-]*$/;

function escaped(text: string): string {
  if (PLAIN.test(text)) return text;
  return text
    .replace(FORBIDDEN, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
