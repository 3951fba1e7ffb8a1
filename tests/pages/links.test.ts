/** What pages lead to and name is there, and the README leads to all of them. */
import { existsSync, readdirSync } from 'node:fs';
import { join, normalize } from 'node:path';
import { describe, expect, test } from 'vitest';
import { exampleLines, PAGES, ROOT, read } from './pages.js';

/** What is neither an example nor in backquotes. */
function prose(page: string): string {
  const examples = new Set(exampleLines(page));
  return page
    .split('\n')
    .filter((line) => !examples.has(line) && !examples.has(line.slice(4)))
    .join('\n')
    .replace(/`[^`]*`/g, '');
}

interface Link {
  readonly from: string;
  readonly isImage: boolean;
  readonly words: string;
  /** Path from the root. */
  readonly path: string;
  /** Without the sign; empty where there is none. */
  readonly anchor: string;
}

function linksOf(from: string): Link[] {
  // Words of a link may be in backquotes, so only examples are left out here.
  const text = read(from)
    .replace(/^```[\s\S]*?^```/gm, '')
    .replace(/^ {4}(?! *!?\[).*$/gm, '');
  return [...text.matchAll(/(!?)\[([^\]]*)\]\((?!https?:)([^)\s]*)\)/g)].map(([, mark, words, target]) => {
    const [path = '', anchor = ''] = target!.split('#');
    return {
      from,
      isImage: mark === '!',
      words: words!,
      path: path === '' ? from : normalize(join(from, '..', path)),
      anchor,
    };
  });
}

/** The anchors that GitHub gives the headings of a page. */
function anchorsOf(path: string): string[] {
  return [...prose(read(path)).matchAll(/^#+ (.*)$/gm)].map(([, heading]) =>
    heading!
      .toLowerCase()
      .replace(/[^\p{L}\p{N} _-]/gu, '')
      .replaceAll(' ', '-'),
  );
}

const LINKS = PAGES.flatMap(linksOf);

describe('links', () => {
  test('lead to files that are there', () => {
    expect(LINKS.length).toBeGreaterThan(60);
    const dead = LINKS.filter(({ path }) => !existsSync(join(ROOT, path)));
    expect(dead.map(({ from, path }) => `${from} → ${path}`)).toEqual([]);
  });

  test('lead to headings that are there', () => {
    const dead = LINKS.filter(({ path, anchor }) => anchor !== '' && !anchorsOf(path).includes(anchor));
    expect(dead.map(({ from, path, anchor }) => `${from} → ${path}#${anchor}`)).toEqual([]);
  });

  test('pictures have words, and each is shown somewhere', () => {
    const pictures = LINKS.filter(({ isImage }) => isImage);
    expect(pictures.filter(({ words }) => words.length < 20)).toEqual([]);
    const shown = new Set(pictures.map(({ path }) => path));
    const kept = readdirSync(join(ROOT, 'docs/images')).map((name) => `docs/images/${name}`);
    expect(kept.filter((path) => !shown.has(path))).toEqual([]);
  });

  test('of the README lead to every page, on the way or at once', () => {
    const reached = new Set(['README.md']);
    for (const page of reached) {
      for (const { from, path } of LINKS) if (from === page && path.endsWith('.md')) reached.add(path);
    }
    expect(PAGES.filter((page) => !reached.has(page))).toEqual([]);
  });
});

describe('what pages name', () => {
  test('files of the project are there', () => {
    const named = PAGES.flatMap((page) =>
      [...read(page).matchAll(/`((?:src|tests|docs|fixtures|bin)\/[\w./-]+)`/g)].map(([, path]) => ({
        page,
        path: path!,
      })),
    );
    expect(named.length).toBeGreaterThan(40);
    // NAME stands for any.
    const dead = named.filter(({ path }) => !path.includes('NAME') && !existsSync(join(ROOT, path)));
    expect(dead.map(({ page, path }) => `${page}: ${path}`)).toEqual([]);
  });

  test('scripts of npm are there', () => {
    const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
    const named = PAGES.flatMap((page) =>
      [...read(page).matchAll(/npm run ([a-z][a-z-]*)/g)].map(([, name]) => ({ page, name: name! })),
    );
    expect(named.filter(({ name }) => scripts[name] === undefined)).toEqual([]);
    const told = new Set(named.map(({ name }) => name));
    const own = ['prepare', 'test', 'lint', 'types'];
    expect(Object.keys(scripts).filter((name) => !told.has(name) && !own.includes(name))).toEqual([]);
  });
});
