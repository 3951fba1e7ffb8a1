import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseRequest } from './arguments.js';
import { chosenClips, karaokeClips, refuseOverlap, renderedFolder, sightSinging } from './sources.js';

let root = '';
const put = (path: string, text: string) => {
  mkdirSync(join(root, dirname(path)), { recursive: true });
  writeFileSync(join(root, path), text);
};
const at = (path: string) => join(root, path);
const TRUTH = '{"notes":[{"start":0,"end":1,"midi":60}]}';

beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'cantilena-train-'));
  for (const id of ['3', '1', '2']) {
    put(`data/singing/ssvd/${id}.flac`, id);
    put(`data/singing/ssvd/${id}.txt`, '0.5 1.0 60\n');
  }
  put('data/made/sung-a.flac', 'kept for measuring');
  put('data/made/sung-a.truth.json', TRUTH);
  for (let clip = 1; clip <= 9; clip++) {
    put(`data/mir1k/ann_1_0${clip}.opus`, '');
    put(`data/mir1k/ann_1_0${clip}.pv`, '0\n60\n');
  }
  put('own/hummed-1.wav', 'mine');
  put('own/hummed-1.truth.json', TRUTH);
});

afterAll(() => rmSync(root, { recursive: true, force: true }));

const named = (files: { path: string }[]) => files.map(({ path }) => basename(path));

describe('sources', () => {
  test('of the sight-singing set only the first half is taken, its onsets counting as 15 ms late', () => {
    const files = sightSinging(at('data'));
    expect(named(files)).toEqual(['1.flac', '2.flac']);
    expect(files[0].labels).toMatchObject({ lateSeconds: 0.015, voiced: null });
  });

  test('of each singer every ninth clip from the fourth is taken, six at most', () => {
    const clips = (singer: string, count: number) =>
      Array.from({ length: count }, (_, i) => `${singer}_${String(i + 1).padStart(3, '0')}.opus`);
    expect(chosenClips(['a.pv', ...clips('b', 12), ...clips('a', 90)])).toEqual([
      ...[4, 13, 22, 31, 40, 49].map((n) => `a_${String(n).padStart(3, '0')}`),
      'b_004',
    ]);
    const [clip] = karaokeClips(at('data'));
    expect(basename(clip.path)).toBe('ann_1_04.opus');
    expect(clip.channel).toBe(1);
    expect(clip.labels.notes).toBeNull();
    expect(karaokeClips(at('own'))).toEqual([]);
  });

  test('a folder of computed recordings needs a truth file, and a recording beside each', () => {
    expect(named(renderedFolder(at('own')))).toEqual(['hummed-1.wav']);
    put('lonely/a.truth.json', TRUTH);
    expect(() => renderedFolder(at('lonely'))).toThrow('no recording beside it');
    put('empty/a.wav', '');
    expect(() => renderedFolder(at('empty'))).toThrow('no NAME.truth.json');
  });

  test('a further folder that holds anything of the data folder is refused, also a link or a copy', () => {
    expect(() => refuseOverlap(at('data'), at('own'))).not.toThrow();
    expect(() => refuseOverlap(at('data'), at('data/made'))).toThrow('lies in');
    mkdirSync(at('linked'));
    symlinkSync(at('data/made/sung-a.flac'), at('linked/mine.flac'));
    expect(() => refuseOverlap(at('data'), at('linked'))).toThrow('lies in');
    mkdirSync(at('copied'));
    cpSync(at('data/singing/ssvd/3.flac'), at('copied/other-name.flac'));
    expect(() => refuseOverlap(at('data'), at('copied'))).toThrow('is a copy of a recording');
  });
});

describe('arguments', () => {
  test('folders, and defaults for the rest', () => {
    expect(parseRequest(['x', '--more', 'a', '--more', 'b'])).toEqual({
      root: 'x',
      more: ['a', 'b'],
      out: null,
      epochs: 16,
      seed: 1,
    });
  });

  test('what cannot be met is refused', () => {
    expect(() => parseRequest([])).toThrow('Give one folder');
    expect(() => parseRequest(['x', '--epochs', '0'])).toThrow('--epochs is a whole number from 1');
    expect(() => parseRequest(['x', '--seed', '1.5'])).toThrow('--seed is a whole number');
  });
});
