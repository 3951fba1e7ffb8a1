/** A small XML reader for the tests: elements and text, of files that the program wrote. */
export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Node[];
  readonly text: string;
}

const unescaped = (text: string) =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');

/** The root element. Throws where tags do not match. */
export function parseXml(xml: string): Node {
  type Open = { name: string; attributes: Record<string, string>; children: Node[]; text: string };
  const root: Open = { name: '', attributes: {}, children: [], text: '' };
  const stack: Open[] = [root];
  for (const [, close, name, attributes, empty, text] of xml.matchAll(
    /<(\/?)([\w-]+)((?:\s+[\w-]+="[^"<]*")*)\s*(\/?)>|<[?!][^>]*>|([^<]+)/g,
  )) {
    const top = stack.at(-1)!;
    if (text !== undefined) top.text += unescaped(text).trim();
    else if (close) {
      if (stack.pop()!.name !== name) throw new Error(`</${name}> does not close <${top.name}>`);
    } else if (name) {
      const pairs = [...attributes!.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, k, v]) => [k!, unescaped(v!)]);
      const node = { name, attributes: Object.fromEntries(pairs), children: [], text: '' };
      top.children.push(node);
      if (!empty) stack.push(node);
    }
  }
  if (stack.length !== 1 || root.children.length !== 1) throw new Error('the elements are not closed');
  return root.children[0]!;
}

/** Every element of a name, in order of the text. */
export function all(node: Node, name: string): Node[] {
  return node.children.flatMap((child) => [...(child.name === name ? [child] : []), ...all(child, name)]);
}

/** Text of the first element of a name inside, null where there is none. */
export function textOf(node: Node, name: string): string | null {
  return all(node, name)[0]?.text ?? null;
}
