/** The pages of the project: what they lead to is there, the README leads to all of them, and their commands are taken. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, normalize, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { planOf } from '../src/cli/plan.js';

const ROOT = resolve(import.meta.dirname, '..');
const PAGES = [
  'README.md',
  'DEVELOPERS.md',
  ...['docs', 'fixtures', 'src', 'tests'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.md'))
      .map((name) => `${folder}/${name.replaceAll('\\', '/')}`),
  ),
];

const read = (path: string) => readFileSync(join(ROOT, path), 'utf8');

/** Lines of examples: indented by four, not in a list, or between fences. */
function exampleLines(page: string): string[] {
  let fenced = false;
  const lines = page.split('\n');
  return lines.flatMap((line) => {
    if (line.startsWith('```')) fenced = !fenced;
    else if (fenced) return [line];
    else if (/^ {4}\S/.test(line)) return [line.slice(4)];
    return [];
  });
}

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

/** Words, quotes taken off, and the signs of the shell between them, as far as the pages need them. */
const shellWords = (line: string) =>
  (line.match(/(?:'[^']*'|"[^"]*"|[^\s'"|;&<>])+|[|;&]+|\d?>+&?\d?|</g) ?? []).map((word) =>
    word.replace(/'([^']*)'|"([^"]*)"/g, '$1$2'),
  );

/** What follows `cantilena` in a line of shell, each time it comes, up to the next sign of the shell. */
const argumentsIn = (line: string): string[][] => {
  const words = shellWords(line);
  return words.flatMap((word, i) => {
    if (word !== 'cantilena' && word !== 'bin/cantilena.js') return [];
    const end = words.findIndex((sign, j) => j > i && /^(?:[|;&]+|\d?>+&?\d?|<|#)$/.test(sign));
    return [words.slice(i + 1, end < 0 ? undefined : end)];
  });
};

/**
 * The commands of a page, in examples and in backquotes: without what is said of one behind a wide gap, and without forms
 * that stand for many (<input>, …). What the shell puts in (`$song`) is taken for a 4, which is a number and a name.
 */
const commandsOf = (page: string): string[][] => {
  const text = read(page);
  // With an argument at least: `cantilena batch` in a sentence is the name of a command.
  const inline = [...text.matchAll(/`(cantilena [^\s`]+ [^`]*)`/g)].map(([, command]) => command!);
  return [...exampleLines(text).map((line) => line.replace(/^\$ /, '').replace(/ {3,}.*$/, '')), ...inline]
    .filter((line) => !/[<…[]|NAME|^#|^import|^cantilena:|^cantilena note list/.test(line))
    .flatMap(argumentsIn)
    .map((words) => words.map((word) => (word.startsWith('$') ? '4' : word)));
};

describe('commands', () => {
  test('the words of a line of shell are told from its signs', () => {
    expect(argumentsIn("cantilena 'a b' --key G > x.txt; ls | cantilena scales - | head")).toEqual([
      ['a b', '--key', 'G'],
      ['scales', '-'],
    ]);
  });

  for (const [page, fewest] of [
    ['README.md', 8],
    ['docs/commands.md', 35],
    ['docs/guide.md', 10],
    ['docs/many-machines.md', 5],
    ['docs/note-list.md', 3],
    ['docs/recipes.md', 8],
    ['docs/sheet.md', 2],
    ['docs/trust.md', 2],
  ] as const) {
    test(`${page} shows commands that the program takes`, () => {
      const commands = commandsOf(page);
      expect(commands.length).toBeGreaterThanOrEqual(fewest);
      for (const words of commands) expect(planOf(words, 80).kind, words.join(' ')).not.toBe('nothing');
    });
  }
});
