/** Files are written whole or not at all. */
import * as nodeFs from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { FileSystem } from '../../src/cli/context.js';
import { makePlaces, type Places } from './places.js';
import { inProcess } from './run.js';

let places: Places;
beforeEach(() => {
  places = makePlaces();
});
afterEach(() => places.remove());

const systemError = (code: string) => Object.assign(new Error(`${code}: made by a test`), { code });
const faulty = (changed: Partial<FileSystem['promises']>): FileSystem => ({
  createReadStream: nodeFs.createReadStream,
  promises: { ...nodeFs.promises, ...changed } as FileSystem['promises'],
});
const names = (folder = '.') => nodeFs.readdirSync(join(places.folder, folder)).sort();
const hidden = () => names().filter((name) => name.startsWith('.'));

describe('where the system fails', () => {
  test('a disk that fills up leaves no part of a file, and neither of those that went before', async () => {
    let calls = 0;
    const writeFile: FileSystem['promises']['writeFile'] = async (path, content, options) => {
      calls += 1;
      if (calls < 3) return nodeFs.promises.writeFile(path, content, options);
      await nodeFs.promises.writeFile(path, content.slice(0, 5), options);
      throw systemError('ENOSPC');
    };
    const before = names();
    const run = await inProcess([places.at('list.txt'), '--out', places.folder], {
      fs: faulty({ writeFile }),
    });
    expect(run).toMatchObject({ status: 2, stdout: '' });
    expect(run.stderr).toMatch(/\ncantilena: \S+list\.mid cannot be written: the disk is full\.\n$/);
    expect(names()).toEqual(before);
  });

  test('a file that cannot be given its name leaves what was there, and no temporary file', async () => {
    const rename = () => Promise.reject(systemError('EACCES'));
    const args = [places.at('two.mid'), '--midi', places.at('there.mid'), '--force'];
    const run = await inProcess(args, { fs: faulty({ rename }) });
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/there\.mid cannot be written: permission is denied\.\n$/);
    expect(nodeFs.readFileSync(places.at('there.mid'), 'utf8')).toBe('something dear');
    expect(hidden()).toEqual([]);
  });

  test('a folder that may not be written to is found before anything is read', async () => {
    const fs: FileSystem = {
      ...faulty({ access: () => Promise.reject(systemError('EACCES')) }),
      createReadStream: () => {
        throw new Error('read before the targets were looked at');
      },
    };
    const run = await inProcess([places.at('two.mid'), '--midi', places.at('x.mid')], { fs });
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(
      /x\.mid cannot be written: you may not write to \S+; write somewhere else\.\n$/,
    );
  });

  test('a file that appears while the work goes on is not written over', async () => {
    const writeFile: FileSystem['promises']['writeFile'] = async (path, content, options) => {
      await nodeFs.promises.writeFile(places.at('x.mid'), 'of somebody else');
      return nodeFs.promises.writeFile(path, content, options);
    };
    const args = [places.at('two.mid'), '--midi', places.at('x.mid')];
    const run = await inProcess(args, { fs: faulty({ writeFile }) });
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/x\.mid is already there/);
    expect(nodeFs.readFileSync(places.at('x.mid'), 'utf8')).toBe('of somebody else');
    expect(hidden()).toEqual([]);
  });

  test('an input that breaks off while it is read is told', async () => {
    const fs: FileSystem = {
      ...faulty({}),
      createReadStream: (path) => {
        const stream = nodeFs.createReadStream(path);
        stream.destroy(systemError('EIO'));
        return stream;
      },
    };
    const run = await inProcess([places.at('two.mid')], { fs });
    expect(run.status).toBe(3);
    expect(run.stderr).toMatch(/^cantilena: \S+two\.mid cannot be read: the disk reports an error\.\n$/);
  });

  test('a file that may not be read is told', async () => {
    const fs = faulty({ stat: () => Promise.reject(systemError('EACCES')) });
    const run = await inProcess([places.at('two.mid')], { fs });
    expect(run).toMatchObject({ status: 3 });
    expect(run.stderr).toMatch(/two\.mid cannot be read: permission is denied\.\n$/);
  });

  test('what is no fault of the user is called a mistake of the program, with status 70', async () => {
    const fs = faulty({ stat: () => Promise.reject(new TypeError('undefined is no function')) });
    const run = await inProcess([places.at('two.mid')], { fs });
    expect(run).toEqual({
      status: 70,
      stdout: '',
      stderr:
        'cantilena: this is a mistake in cantilena: undefined is no function; please report it with the command and the file.\n',
    });
    const debugged = await inProcess([places.at('two.mid')], { fs, env: { CANTILENA_DEBUG: '1' } });
    expect(debugged.stderr).toMatch(/\n {4}at /);
  });
});

describe('with --force', () => {
  test('a file is replaced, and a link stays a link to the file that it names', async () => {
    nodeFs.symlinkSync('there.mid', places.at('link.mid'));
    const run = await inProcess([places.at('two.mid'), '--midi', places.at('link.mid'), '--force']);
    expect(run.status).toBe(0);
    expect(nodeFs.lstatSync(places.at('link.mid')).isSymbolicLink()).toBe(true);
    expect(nodeFs.readFileSync(places.at('there.mid')).subarray(0, 4).toString()).toBe('MThd');
  });

  test('the input is not written over under another name either', async () => {
    nodeFs.linkSync(places.at('two.mid'), places.at('second-name.mid'));
    const run = await inProcess([places.at('two.mid'), '--midi', places.at('second-name.mid'), '--force']);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/is the input itself/);
  });
});
