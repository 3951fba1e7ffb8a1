import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
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

/** Names of all properties in a JSON Schema, however deep. */
function fieldsOf(schema: unknown): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const { properties = {} } = schema as { properties?: object };
  return [...Object.keys(properties), ...Object.values(schema).flatMap(fieldsOf)];
}

const says = (text: string): string => {
  try {
    readNoteList(text, 'song.txt');
  } catch (error) {
    return (error as Error).message;
  }
  return 'no error';
};

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

  test('tell of every field of the JSON', () => {
    const page = doc('melody-json.md');
    const named = fieldsOf(JSON.parse(doc('melody.schema.json')));
    expect(named.length).toBeGreaterThan(40);
    expect(named.filter((name) => !new RegExp(`\\b${name}\\b`).test(page))).toEqual([]);
  });

  test('show JSON that the program reads', () => {
    const example = blocks(doc('melody-json.md'))[0]!;
    expect(readMelodyJson(example, 'page').notes.map((n) => n.midi)).toEqual([65, 69]);
  });
});
