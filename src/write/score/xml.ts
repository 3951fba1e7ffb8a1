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
  const indent = '  '.repeat(depth);
  let head = `${indent}<${node.name}`;
  for (const key in node.attributes) head += ` ${key}="${escaped(node.attributes[key]!)}"`;
  if (typeof node.content === 'string') return `${head}>${escaped(node.content)}</${node.name}>\n`;
  if (node.content.length === 0) return `${head}/>\n`;
  let inner = '';
  for (const child of node.content) inner += xmlText(child, depth + 1);
  return `${head}>\n${inner}${indent}</${node.name}>\n`;
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
