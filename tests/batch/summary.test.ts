import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { indexPage } from '../../src/batch/index-page.js';
import { mergeSummaries, summaryName } from '../../src/batch/merge.js';
import { type SongRow, summaryJson, summaryOf, summaryRows } from '../../src/batch/summary.js';
import { makeFolder } from './folder.js';

const folder = makeFolder();
afterAll(folder.remove);

const row = (name: string, level: number, more: Partial<SongRow> = {}): SongRow => ({
  name,
  status: 'done',
  folder: name,
  seconds: 187.4,
  notes: 20,
  lines: 2,
  key: 'C major',
  level,
  warnings: [],
  files: ['song.notes', 'song.html'],
  ...more,
});
const lost = (name: string) => ({ name, status: 'failed' as const, message: 'it is torn.' });

describe('the summary', () => {
  test('is easiest first, equally easy ones by name, whatever the order of the work', () => {
    const songs = [row('c', 2), row('a', 5), row('b', 2)];
    const summary = summaryOf(songs, [lost('z'), lost('y')]);
    expect(summary.songs.map(({ name }) => name)).toEqual(['b', 'c', 'a']);
    expect(summary.failed.map(({ name }) => name)).toEqual(['y', 'z']);
    expect(summaryJson(summaryOf([...songs].reverse(), [lost('y'), lost('z')]))).toBe(summaryJson(summary));
    expect(summaryRows(summary)[0]).toEqual(['2.0', 'b', 'C major', '20', '2', '3:07']);
  });
});

describe('the page', () => {
  const name = '<img src=x onerror=alert(1)> & "co" #1?.wav';
  const page = indexPage(
    summaryOf([row(name, 3), row('plain', 1, { files: ['song.notes'] })], [lost('<b>')]),
  );

  test('shows names as text and links to the sheets', () => {
    expect(page).not.toContain('<img');
    expect(page).not.toContain('<b>');
    expect(page).toContain('&lt;img src=x onerror=alert(1)&gt; &amp; &quot;co&quot; #1?.wav');
    expect(page).toContain(`href="${encodeURIComponent(name)}/song.html"`);
    expect(page.match(/<a /g)).toHaveLength(1);
  });

  test('runs nothing and asks for nothing', () => {
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|https?:/);
  });
});

describe('merging', () => {
  const put = (path: string, content: string) => {
    mkdirSync(folder.at(path.split('/').slice(0, -1).join('/')), { recursive: true });
    writeFileSync(folder.at(path), content);
  };

  test('joins the parts of a folder and leaves its whole summary out', async () => {
    put(
      `all/${summaryName({ index: 1, count: 2 }, 'json')}`,
      summaryJson(summaryOf([row('b', 2)], [lost('x')])),
    );
    put(`all/${summaryName({ index: 2, count: 2 }, 'json')}`, summaryJson(summaryOf([row('a', 1)], [])));
    put(`all/${summaryName(null, 'json')}`, summaryJson(summaryOf([row('old', 1)], [])));
    const merged = await mergeSummaries([folder.at('all')], folder.at('all'));
    expect(merged).toEqual(summaryOf([row('a', 1), row('b', 2)], [lost('x')]));
  });

  test('of several folders links from where it lies, and a song heard anywhere is heard', async () => {
    put('m1/summary.json', summaryJson(summaryOf([row('a', 1)], [lost('b')])));
    put('m2/summary.json', summaryJson(summaryOf([row('b', 2), row('a', 1)], [])));
    const merged = await mergeSummaries([folder.at('m1'), folder.at('m2')], folder.root);
    expect(merged.songs.map((song) => song.folder)).toEqual(['m1/a', 'm2/b']);
    expect(merged.failed).toEqual([]);
  });

  test.each([
    ['bad1/summary.json', 'not JSON'],
    ['bad2/summary.json', '{"format":"cantilena-batch","version":99,"songs":[],"failed":[]}'],
    ['bad3/summary.json', '{"format":"cantilena-batch","version":1,"songs":[{"name":1}],"failed":[]}'],
    ['bad4/other.json', '{}'],
  ])('%s is refused in a sentence', async (path, content) => {
    put(path, content);
    const [name] = path.split('/');
    await expect(mergeSummaries([folder.at(name!)], folder.root)).rejects.toThrow(/\.$/);
  });
});
