import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { closeStore, findRecord, openStore, putSong } from '../../src/batch/store.js';
import type { SongDone } from '../../src/batch/types.js';
import { OutputError } from '../../src/errors.js';
import { makeFolder } from './folder.js';

const folder = makeFolder();
afterAll(folder.remove);

const song = (name: string, files: readonly string[] = ['x.notes']): SongDone => ({
  name,
  status: 'done',
  seconds: 10,
  notes: 20,
  lines: 2,
  key: 'C major',
  level: 2.5,
  warnings: [],
  files,
});
const files = (content: string) => [{ name: 'x.notes', content }];

describe('a song', () => {
  test('lies in a folder of its name, with its record', async () => {
    const root = await openStore(folder.at('one'));
    putSong(root, song('deep/a.mp3'), 'id', files('notes'));
    await closeStore(root);
    expect(readdirSync(root)).toEqual(['deep']);
    expect(readFileSync(join(root, 'deep/a.mp3/x.notes'), 'utf8')).toBe('notes');
    expect(await findRecord(root, 'deep/a.mp3', 'id')).toEqual(song('deep/a.mp3'));
  });

  test('is not taken for heard with another identity, or where a file of it is gone', async () => {
    const root = await openStore(folder.at('two'));
    putSong(root, song('a.mp3'), 'id', files('notes'));
    expect(await findRecord(root, 'a.mp3', 'other')).toBeNull();
    expect(await findRecord(root, 'b.mp3', 'id')).toBeNull();
    putSong(root, song('c.mp3', ['x.notes', 'y.mid']), 'id', files('notes'));
    expect(await findRecord(root, 'c.mp3', 'id')).toBeNull();
  });

  test('that is heard again replaces what was there', async () => {
    const root = await openStore(folder.at('three'));
    putSong(root, song('a.mp3'), 'id', files('old'));
    putSong(root, song('a.mp3'), 'id', files('new'));
    await closeStore(root);
    expect(readFileSync(join(root, 'a.mp3/x.notes'), 'utf8')).toBe('new');
    expect(readdirSync(root)).toEqual(['a.mp3']);
  });

  test('never takes the place of what no batch has written', async () => {
    const root = await openStore(folder.at('four'));
    mkdirSync(join(root, 'a.mp3'));
    writeFileSync(join(root, 'a.mp3/diary.txt'), 'dear');
    expect(() => putSong(root, song('a.mp3'), 'id', files('new'))).toThrow(OutputError);
    expect(readdirSync(join(root, 'a.mp3'))).toEqual(['diary.txt']);
  });

  test('is never written through a link', async () => {
    const root = await openStore(folder.at('five'));
    mkdirSync(folder.at('outside'));
    symlinkSync(folder.at('outside'), join(root, 'deep'));
    expect(() => putSong(root, song('deep/a.mp3'), 'id', files('new'))).toThrow(/link/);
    symlinkSync(folder.at('outside'), join(root, 'b.mp3'));
    expect(() => putSong(root, song('b.mp3'), 'id', files('new'))).toThrow(OutputError);
    expect(readdirSync(folder.at('outside'))).toEqual([]);
    expect(lstatSync(join(root, 'b.mp3')).isSymbolicLink()).toBe(true);
  });
});

test('what a killed run has left growing is cleared away, and what another machine grows is not', async () => {
  const growing = folder.at('six/.cantilena-growing');
  // Linux gives no process this number by default (pid_max is 4,194,304).
  const dead = join(growing, `${hostname()}~99999999~a`);
  const elsewhere = join(growing, 'another-host~1~b');
  for (const path of [dead, elsewhere]) mkdirSync(path, { recursive: true });
  const root = await openStore(folder.at('six'));
  expect(existsSync(dead)).toBe(false);
  expect(existsSync(elsewhere)).toBe(true);
  await closeStore(root);
  expect(existsSync(elsewhere)).toBe(true);
});
