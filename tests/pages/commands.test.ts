/** The commands that pages show are taken, and every option is told. */
import { describe, expect, test } from 'vitest';
import { planOf } from '../../src/cli/plan.js';
import { programOf } from '../../src/cli/program.js';
import { exampleLines, read } from './pages.js';
import { shellWords } from './shell-words.js';

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

  test('docs/commands.md tells of every option, of a command or of `notes`, and of no other', () => {
    const sections = read('docs/commands.md').split(/^## /m);
    const sectionOf = (command: string) =>
      sections.find((section) => section.split('\n')[0]!.split(', ').includes(command)) ?? '';
    const programs = programOf(() => {}).commands.filter((command) => sectionOf(command.name()) !== '');
    expect(programs.map((command) => command.name())).toEqual(
      expect.arrayContaining(['notes', 'merge', 'doctor']),
    );
    const told = (text: string) => [...text.matchAll(/(--[a-z][a-z-]*)/g)].map(([, option]) => option!);
    const missing = programs.flatMap((command) => {
      const own = sectionOf(command.name());
      const known = /those of `notes`|with the same options/.test(own) ? own + sectionOf('notes') : own;
      return command.options.map(({ long }) => long!).filter((option) => !told(known).includes(option));
    });
    expect(missing.filter((option) => option !== '--help')).toEqual([]);
    const all = programs.flatMap((command) => command.options.map(({ long }) => long!));
    const extra = told(sections.join('')).filter((option) => !all.includes(option));
    expect([...new Set(extra)].sort()).toEqual(['--help', '--version']);
  });
});
