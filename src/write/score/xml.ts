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
  const attributes = Object.entries(node.attributes)
    .map(([key, value]) => ` ${key}="${escaped(value)}"`)
    .join('');
  const head = `${indent}<${node.name}${attributes}`;
  if (typeof node.content === 'string') return `${head}>${escaped(node.content)}</${node.name}>\n`;
  if (node.content.length === 0) return `${head}/>\n`;
  const inner = node.content.map((child) => xmlText(child, depth + 1)).join('');
  return `${head}>\n${inner}${indent}</${node.name}>\n`;
}

/** What XML 1.0 (5th edition, 2.2 "Characters") allows, less the control characters; halves of a pair never stand alone. */
const FORBIDDEN = /[\p{Cc}\p{Cs}\uFFFE\uFFFF]+/gu;

function escaped(text: string): string {
  return text
    .replace(FORBIDDEN, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
