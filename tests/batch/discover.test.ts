import { symlinkSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import { findSongs } from '../../src/batch/discover.js';
import { makeFolder } from './folder.js';

const folder = makeFolder({
  'songs/b.mp3': '',
  'songs/a.WAV': '',
  'songs/a.flac': '',
  'songs/deep/er/c.m4a': '',
  'songs/cover.jpg': '',
  'songs/.hidden.mp3': '',
  'songs/.trash/d.mp3': '',
  'songs/out/e.mp3': '',
  'elsewhere/songs/f.opus': '',
  'elsewhere/g.ogg': '',
});
afterAll(folder.remove);
symlinkSync(folder.at('songs'), folder.at('songs/deep/loop'));
symlinkSync(folder.at('elsewhere/g.ogg'), folder.at('songs/link.ogg'));
symlinkSync(folder.at('nowhere.mp3'), folder.at('songs/gone.mp3'));

const names = async (folders: readonly string[], leftOut: string | null = null) =>
  (await findSongs(folders, leftOut)).songs.map(({ name }) => name);

test('recordings however deep, in order of name, each by its own name', async () => {
  expect(await names([folder.at('songs')])).toEqual([
    'a.WAV',
    'a.flac',
    'b.mp3',
    'deep/er/c.m4a',
    'gone.mp3',
    'link.ogg',
    'out/e.mp3',
  ]);
});

test('the folder of the results is not looked into', async () => {
  expect(await names([folder.at('songs')], folder.at('songs/out'))).not.toContain('out/e.mp3');
});

test('several folders are told apart, also those of one name', async () => {
  const found = await names([folder.at('songs'), folder.at('elsewhere/songs')]);
  expect(found).toContain('songs/b.mp3');
  expect(found).toContain('songs-2/f.opus');
  expect(new Set(found).size).toBe(found.length);
});

test('a folder that cannot be read is told, and the rest is found', async () => {
  const { songs, failures } = await findSongs([folder.at('nowhere'), folder.at('elsewhere')], null);
  expect(songs.map(({ name }) => name)).toEqual(['elsewhere/g.ogg', 'elsewhere/songs/f.opus']);
  expect(failures).toEqual([
    { name: 'nowhere', status: 'failed', message: 'the folder cannot be read: it is not there.' },
  ]);
  // One alone is named too, though its songs are not named after it.
  const alone = await findSongs([folder.at('nowhere')], null);
  expect(alone.failures.map(({ name }) => name)).toEqual(['nowhere']);
});
