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
  TAG.lastIndex = 0;
  for (let tag = TAG.exec(svg); tag !== null; tag = TAG.exec(svg)) {
    const [, closes, name, attributes, empty] = tag;
    if (closes) {
      open.pop();
      continue;
    }
    const node: Growing = { name: name!, attributes: attributesIn(attributes!), children: [] };
    open.at(-1)!.children.push(node);
    if (!empty) open.push(node);
  }
  return root.children[0] ?? root;
}

function attributesIn(text: string): Record<string, string> {
  const attributes: Record<string, string> = {};
  ATTRIBUTE.lastIndex = 0;
  for (let found = ATTRIBUTE.exec(text); found !== null; found = ATTRIBUTE.exec(text)) {
    attributes[found[1]!] = found[2]!;
  }
  return attributes;
}

/** Every node whose first class is `name`, outermost first, not looking inside those found. */
export function withClass(node: SvgNode, name: string): SvgNode[] {
  const found: SvgNode[] = [];
  collect(node, name, `${name} `, found);
  return found;
}

function collect(node: SvgNode, name: string, start: string, found: SvgNode[]): void {
  const own = node.attributes.class;
  if (own !== undefined && (own === name || own.startsWith(start))) found.push(node);
  else for (const child of node.children) collect(child, name, start, found);
}

/** All numbers in a text. */
export function numbersIn(text: string): number[] {
  return (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
}
