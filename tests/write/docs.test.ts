import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { planOf } from '../../src/cli/plan.js';
import { readMelodyJson } from '../../src/write/json/read-json.js';
import { readNoteList } from '../../src/write/note-list/read-note-list.js';
import { golden } from './melodies.js';

const doc = (name: string) => readFileSync(new URL(`../../docs/${name}`, import.meta.url), 'utf8');

/** The indented blocks of a page, each without its indent. */
const blocks = (page: string) =>
  page
    .split(/\n(?! {4})/)
    .map((part) => part.slice(part.indexOf('\n') + 1))
    .filter((part) => part.startsWith('    '))
    .map((part) => part.replace(/^ {4}/gm, ''));

const says = (text: string): string => {
  try {
    readNoteList(text, 'song.txt');
  } catch (error) {
    return (error as Error).message;
  }
  return 'no error';
};

/** Words, quotes taken off, and the signs of the shell between them, as far as the pages need them. */
const shellWords = (line: string) =>
  (line.match(/(?:'[^']*'|"[^"]*"|[^\s'"|;&<>])+|[|;&]+|\d?>+&?\d?|</g) ?? []).map((word) =>
    word.replace(/'([^']*)'|"([^"]*)"/g, '$1$2'),
  );

/** What follows `cantilena` in a line of shell, each time it comes, up to the next sign of the shell. */
const argumentsIn = (line: string): string[][] => {
  const words = shellWords(line);
  return words.flatMap((word, i) => {
    if (word !== 'cantilena') return [];
    const end = words.findIndex((sign, j) => j > i && /^(?:[|;&]+|\d?>+&?\d?|<)$/.test(sign));
    return [words.slice(i + 1, end < 0 ? undefined : end)];
  });
};

describe('the pages for players', () => {
  const shown = (name: string) =>
    doc(name)
      .split('\n')
      .filter((line) => line.startsWith('    $ '))
      .flatMap(argumentsIn);

  test('the words of a line of shell are told from its signs', () => {
    expect(argumentsIn("cantilena 'a b' --key G > x.txt; ls | cantilena scales - | head")).toEqual([
      ['a b', '--key', 'G'],
      ['scales', '-'],
    ]);
  });

  for (const [name, fewest] of [
    ['guide.md', 10],
    ['recipes.md', 8],
  ] as const) {
    test(`${name} shows commands that the program takes`, () => {
      const commands = shown(name);
      expect(commands.length).toBeGreaterThan(fewest);
      for (const words of commands) expect(planOf(words, 80)).toMatchObject({ kind: 'task' });
    });
  }
});

describe('the pages on formats', () => {
  test('show the note list that the program writes', () => {
    const example = blocks(doc('note-list.md'))[0]!;
    const single = (text: string) =>
      text
        .replace(/[\t ]+/g, ' ')
        .replace(/ $/gm, '')
        .trim();
    expect(single(example)).toBe(single(readFileSync(golden('two-lines.tsv'), 'utf8')));
  });

  test('show the messages that the program gives', () => {
    const shown = blocks(doc('note-list.md'))
      .find((block) => block.startsWith('song.txt, line 9'))!
      .trim()
      .split('\n');
    const row = (start: string, note: string) => `1\t-\t-\t${start}\t0.250\t${note}\t0\t1.00\t1\t`;
    const before = '# a comment\n'.repeat(8);
    expect(shown).toEqual([
      says(`${before}${row('0.500', 'H4')}`),
      says(`${before}${row('0,500', 'F4')}`),
      says(`${before}${row('0.500', 'F4')}\n${row('0.700', 'F4')}`),
    ]);
  });

  test('show JSON that the program reads', () => {
    const example = blocks(doc('melody-json.md'))[0]!;
    expect(readMelodyJson(example, 'page').notes.map((n) => n.midi)).toEqual([65, 69]);
  });
});
