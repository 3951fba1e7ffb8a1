import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { parseRequest } from './arguments.js';
import { DEFAULT_GROUPS } from './cases.js';
import { printReports, REPORT_NAMES } from './reports.js';

describe('what --only names', () => {
  test('without it: the recordings, and no report', () => {
    expect(parseRequest(['DIR'])).toMatchObject({ reports: [], choice: { groups: DEFAULT_GROUPS } });
  });

  test('reports alone leave the recordings out', () => {
    expect(parseRequest(['DIR', '--only', 'lines,performed,keys,regions,beats'])).toMatchObject({
      reports: ['lines', 'performed', 'keys', 'regions', 'beats'],
      choice: { groups: [] },
    });
  });

  test('reports and groups are mixed in any order, a report named twice is printed once', () => {
    expect(parseRequest(['DIR', '--only', 'keys,mix,lines,made,keys'])).toMatchObject({
      reports: ['keys', 'lines'],
      choice: { groups: ['mix', 'sung', 'piano', 'mix'] },
    });
  });

  test('an unknown word is refused, naming what there is', () => {
    expect(() => parseRequest(['DIR', '--only', 'lines,metres'])).toThrow(
      /^--only metres names nothing; use ssvd, .*mir1k, rhythm, .*fingering\.$/,
    );
    expect(() => parseRequest(['DIR', '--only', ''])).toThrow('names nothing');
  });

  test('--json is refused beside a report, which is text', () => {
    expect(() => parseRequest(['DIR', '--only', 'mix,keys', '--json'])).toThrow(
      '--json prints the scores of recordings, not keys: leave one of them out.',
    );
  });
});

describe('printing reports', () => {
  let root: string;
  let tables: string[];
  let sentences: string[];
  const output = {
    print: (table: string) => tables.push(table),
    warn: (sentence: string) => sentences.push(sentence),
  };

  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), 'reports-'));
    tables = [];
    sentences = [];
  });
  afterEach(() => rmSync(root, { recursive: true }));

  test('in an empty folder every report is skipped, saying what is absent', async () => {
    expect(await printReports(root, REPORT_NAMES, output)).toEqual({ printed: 0, failed: 0 });
    expect(tables).toEqual([]);
    expect(sentences).toEqual([
      `skipped: ${root} has no made (rhythm)`,
      `skipped: ${root} has no phrases or made (lines)`,
      `skipped: ${root} has no phrases (performed)`,
      `skipped: ${root} has no keys (keys)`,
      `skipped: ${root} has no keys (regions)`,
      `skipped: ${root} has no made (guide)`,
      `skipped: ${root} has no made, keys or phrases (grade)`,
      `skipped: ${root} has no made or singing/ssvd (compare)`,
      `skipped: ${root} has no recordings of one voice or piano (live)`,
      `skipped: ${root} has no made with known beats (beats)`,
      `skipped: ${root} has no fingering (fingering)`,
    ]);
  });

  test('a report that cannot read its files fails alone, with its name', async () => {
    mkdirSync(join(root, 'keys'));
    writeFileSync(join(root, 'keys', 'pop909-melodies.jsonl'), 'no JSON\n');
    expect(await printReports(root, ['keys', 'lines'], output)).toEqual({ printed: 0, failed: 1 });
    expect(sentences[0]).toMatch(/^failed: keys: /);
    expect(sentences[1]).toMatch(/^skipped: /);
  });
});
