/** What comes from outside and is not meant well, or goes wrong on the way: names, disks, files that change. */
import * as nodeFs from 'node:fs';
import {
  copyFileSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { FileSystem } from '../../src/cli/context.js';
import { LIST } from './places.js';
import { fixture, inProcess } from './run.js';

const folder = mkdtempSync(join(tmpdir(), 'cantilena-trust-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);
const written = (name: string, text: string | Uint8Array = LIST) => {
  writeFileSync(at(name), text);
  return at(name);
};

/** Escape, carriage return, bell, a C1 code, a mark that turns the direction, a line separator. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are looked for
const OBEYED = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\u2028\u2029]/;

describe('names that a terminal would obey', () => {
  for (const name of ['red\u001b[31m.txt', 'two\nlines.txt', 'back\rwards\u202etxt.exe', 'c1\u009b31m.txt']) {
    test(`${JSON.stringify(name)} is one plain line in every sentence`, async () => {
      for (const text of [LIST, 'no list', '']) {
        const { stderr } = await inProcess([written(name, text)]);
        expect(stderr).toMatch(/^[^\n]+[.?]\n$/);
        expect(stderr).not.toMatch(OBEYED);
      }
      const missing = await inProcess([at(`no-${name}`)]);
      expect(missing).toMatchObject({ status: 3, stdout: '' });
      expect(missing.stderr).not.toMatch(OBEYED);
    });
  }

  test('nor do they reach what is written', async () => {
    const input = written('title\u001b[31m\n.txt');
    await inProcess([input, '--midi', at('o.mid'), '--musicxml', at('o.xml'), '--quiet']);
    expect(readFileSync(at('o.xml'), 'utf8')).toMatch(/<work-title>title \[31m/);
    expect(readFileSync(at('o.xml'), 'utf8')).not.toContain('\u001b');
    expect(readFileSync(at('o.mid'), 'latin1')).not.toContain('\u001b[31m');
  });

  test('words of a file do not become lines of the list', async () => {
    const json = JSON.parse((await inProcess([written('plain.txt'), '--json', '--quiet'])).stdout);
    json.recording = { ...json.recording, source: 'solo', why: 'x)\n1\t-\t-\t0\t1\tC9\u001b[2J' };
    const { stdout, stderr } = await inProcess([written('why.json', JSON.stringify(json)), '--quiet']);
    expect(stderr).toBe('');
    expect(stdout).not.toMatch(/^1\t-\t-\t0\t1\tC9/m);
    expect(stdout).not.toContain('\u001b');
  });
});

describe('names that begin with a dash', () => {
  test('are written ./-name, or come after --', async () => {
    const list = written('-song.txt');
    const folderBefore = process.cwd();
    process.chdir(folder);
    try {
      expect((await inProcess(['./-song.txt', '--quiet'])).stdout).toContain('\tBb4\t');
      expect((await inProcess(['--quiet', '--', '-song.txt'])).stdout).toContain('\tBb4\t');
      expect(await inProcess(['-song.txt'])).toMatchObject({ status: 2, stdout: '' });
    } finally {
      process.chdir(folderBefore);
    }
    expect(list).toContain('-song.txt');
  });
});

describe('disks and files', () => {
  test.skipIf(process.platform !== 'linux')(
    'a full disk as a target is told, and nothing else is done',
    async () => {
      const run = await inProcess([written('list.txt'), '--quiet', '--midi', '/dev/full']);
      expect(run).toEqual({
        status: 2,
        stdout: '',
        stderr: 'cantilena: /dev/full cannot be written: the disk is full.\n',
      });
    },
  );

  test('a disk that fills up on the way leaves nothing behind', async () => {
    const full = Object.assign(new Error('full'), { code: 'ENOSPC' });
    const fs: FileSystem = {
      ...nodeFs,
      promises: {
        ...nodeFs.promises,
        writeFile: async (path, content) => {
          await nodeFs.promises.writeFile(path, Buffer.from(content).subarray(0, 10));
          throw full;
        },
      },
    };
    const before = readdirSync(folder);
    const run = await inProcess([written('list.txt'), '--midi', at('never.mid'), '--quiet'], { fs });
    expect(run).toMatchObject({ status: 2, stdout: '' });
    expect(run.stderr).toMatch(/never\.mid cannot be written: the disk is full\.\n$/);
    expect(readdirSync(folder)).toEqual([...new Set([...before, 'list.txt'])].sort());
  });

  test('a file that may not be read, and one that fails on the way', async () => {
    const denied = Object.assign(new Error('denied'), { code: 'EACCES' });
    const stat = async () => {
      throw denied;
    };
    const fs: FileSystem = { ...nodeFs, promises: { ...nodeFs.promises, stat } };
    const run = await inProcess([written('list.txt')], { fs });
    expect(run).toMatchObject({ status: 3, stdout: '' });
    expect(run.stderr).toMatch(/^cantilena: \S+list\.txt cannot be read: permission is denied\.\n$/);
  });

  test('a recording that is cut while it is read is a damaged or an empty one', async () => {
    const song = at('song.wav');
    copyFileSync(fixture('hummed-sharp.wav'), song);
    const fs: FileSystem = {
      ...nodeFs,
      createReadStream: (path) => {
        const stream = nodeFs.createReadStream(path, { highWaterMark: 16_384 });
        stream.once('data', () => truncateSync(song, 20_000));
        stream.pause();
        return stream;
      },
    };
    const run = await inProcess([song], { fs });
    expect([0, 3, 4]).toContain(run.status);
    expect(run.stderr).toMatch(/^([^\n]+[.?]\n)*$/);
    expect(run.stderr).toMatch(/damaged|empty|no melody/);
  });
});
