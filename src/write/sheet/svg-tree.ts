/** SVG as the engraver writes it, read into a tree. It has no text that is shown and no comments. */

export interface SvgNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgNode[];
}

interface Growing extends SvgNode {
  readonly children: Growing[];
}

const TAG = /<(\/?)([\w:]+)((?:\s+[\w:-]+="[^"]*")*)\s*(\/?)>/g;
const ATTRIBUTE = /([\w:-]+)="([^"]*)"/g;

/** The outermost element. Text between tags is passed over. */
export function svgTree(svg: string): SvgNode {
  const root: Growing = { name: '', attributes: {}, children: [] };
  const open = [root];
  for (const [, closes, name, attributes, empty] of svg.matchAll(TAG)) {
    if (closes) {
      open.pop();
      continue;
    }
    const node: Growing = {
      name: name!,
      attributes: Object.fromEntries(
        [...attributes!.matchAll(ATTRIBUTE)].map(([, key, value]) => [key, value]),
      ),
      children: [],
    };
    open.at(-1)!.children.push(node);
    if (!empty) open.push(node);
  }
  return root.children[0] ?? root;
}

/** Every node whose first class is `name`, outermost first, not looking inside those found. */
export function withClass(node: SvgNode, name: string): SvgNode[] {
  return node.attributes.class === name || node.attributes.class?.startsWith(`${name} `)
    ? [node]
    : node.children.flatMap((child) => withClass(child, name));
}

/** All numbers in a text. */
export function numbersIn(text: string): number[] {
  return (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
}
