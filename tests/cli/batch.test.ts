/** `cantilena batch` and `merge`, as processes of their own: the workers need the compiled program. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Summary } from '../../src/batch/summary.js';
import { makeFolder } from '../batch/folder.js';
import { asProcess, BIN, fixture, inProcess } from './run.js';

const folder = makeFolder();
afterAll(folder.remove);

/** Every file under a folder and a hash of what is in it. */
function tree(root: string): Record<string, string> {
  const found: Record<string, string> = {};
  const walk = (at: string) => {
    for (const name of readdirSync(at).sort()) {
      const path = join(at, name);
      if (statSync(path).isDirectory()) walk(path);
      else found[relative(root, path)] = createHash('sha256').update(readFileSync(path)).digest('hex');
    }
  };
  walk(root);
  return found;
}

const batch = (...args: string[]) => asProcess(['batch', ...args]);

/** Each test starts the program several times, and songs are slow to hear where everything is tested at once. */
const BUSY_MS = 180_000;

/** The first run, which the others are held against. */
let first: ReturnType<typeof batch>;

beforeAll(() => {
  mkdirSync(folder.at('songs/evening'), { recursive: true });
  cpSync(fixture('stereo-sung.flac'), folder.at('songs/one.flac'));
  cpSync(fixture('hummed-sharp.wav'), folder.at('songs/one.wav'));
  cpSync(fixture('whistled-brother-john.mp3'), folder.at('songs/evening/two.mp3'));
  writeFileSync(folder.at('songs/evening/torn.mp3'), 'this is no sound');
  first = batch(folder.at('songs'), '--out', folder.at('heard'), '--workers', '2');
}, BUSY_MS);

describe('a folder of songs', { timeout: BUSY_MS }, () => {
  test('is heard, one failure stops nothing, and the next run has nothing to do', () => {
    const out = folder.at('heard');
    expect(first.status).toBe(1);
    expect(first.stderr).toMatch(/^4 recordings found\.\n/);
    expect(first.stderr).toMatch(/\n\[4\/4\] /);
    expect(first.stderr).toMatch(/\nnot heard: evening\/torn\.mp3 is text.*\n$/);
    expect(first.stdout).toMatch(/^# grade\tsong\tkey\tnotes\tlines\tlength\n/);
    expect(readdirSync(out).sort()).toEqual(
      ['evening', 'index.html', 'one.flac', 'one.wav', 'summary.json', 'summary.txt'].sort(),
    );
    expect(readFileSync(join(out, 'summary.txt'), 'utf8')).toMatch(
      /^# grade\t(?:.*\n){4}# not heard: evening\/torn\.mp3 is text.*\n$/,
    );
    expect(readdirSync(join(out, 'one.flac'))).toEqual(
      expect.arrayContaining(['job.json', 'one.notes', 'one.html', 'one.mid']),
    );
    const before = tree(out);
    const second = batch(folder.at('songs'), '--out', out);
    expect(second.stderr.match(/\(heard before\)/g)).toHaveLength(3);
    expect(tree(out)).toEqual(before);
  });

  test('gives the same bytes with one worker, again, and in parts that are merged', () => {
    const whole = tree(folder.at('heard'));
    expect(batch(folder.at('songs'), '--out', folder.at('alone'), '--workers', '1', '--quiet').status).toBe(
      1,
    );
    expect(tree(folder.at('alone'))).toEqual(whole);

    const parts = folder.at('parts');
    for (const part of ['1/2', '2/2']) batch(folder.at('songs'), '--out', parts, '--part', part, '--quiet');
    const merged = asProcess(['merge', parts, '--out', parts]);
    expect(merged.status).toBe(1);
    const all = tree(parts);
    for (const [name, hash] of Object.entries(whole)) expect(all[name], name).toBe(hash);
  });

  test('is heard to the end after it was killed', async () => {
    const out = folder.at('killed');
    const child = spawn(process.execPath, [BIN, 'batch', folder.at('songs'), '--out', out, '--quiet'], {
      detached: true,
      stdio: 'ignore',
    });
    await new Promise((resolve) => setTimeout(resolve, 1500));
    process.kill(-child.pid!, 'SIGKILL');
    await new Promise((resolve) => child.on('close', resolve));
    batch(folder.at('songs'), '--out', out, '--quiet');
    expect(tree(out)).toEqual(tree(folder.at('heard')));
  });

  test('stops after what is being heard when it is interrupted, and says how to go on', async () => {
    const out = folder.at('stopped');
    const child = spawn(
      process.execPath,
      [BIN, 'batch', folder.at('songs'), '--out', out, '--workers', '1'],
      {
        stdio: ['ignore', 'pipe', 'pipe'],
      },
    );
    let said = '';
    child.stderr.on('data', (part: Buffer) => {
      said += part.toString();
      if (said.includes('[1/4]') && !child.killed) child.kill('SIGINT');
    });
    const status = await new Promise((resolve) => child.on('close', resolve));
    expect(status).toBe(1);
    expect(said).toMatch(/stopped after [123] of 4: run the same command again to go on\.\n/);
    expect(readdirSync(out)).not.toContain('.cantilena-growing');
  });

  test('prints the summary as JSON', () => {
    const { stdout } = batch(folder.at('songs'), '--out', folder.at('heard'), '--json', '--quiet');
    const summary = JSON.parse(stdout) as Summary;
    expect(summary.songs).toHaveLength(3);
    const levels = summary.songs.map(({ level }) => level);
    expect(levels).toEqual([...levels].sort((a, b) => a - b));
    expect(summary.failed.map(({ name }) => name)).toEqual(['evening/torn.mp3']);
  });
});

test('a folder without a recording is said, and none is made for results', async () => {
  mkdirSync(folder.at('empty'), { recursive: true });
  const outcome = await inProcess(['batch', folder.at('empty'), '--out', folder.at('never')]);
  expect(outcome).toMatchObject({ status: 3, stdout: '' });
  expect(outcome.stderr).toMatch(/there is no recording in \S+empty: WAV, /);
  expect(existsSync(folder.at('never'))).toBe(false);
});

describe('what makes no sense is refused in a sentence', () => {
  test.each<[string, string[], number, RegExp]>([
    ['no folder', ['batch'], 2, /there is no folder: name one/],
    ['no place for results', ['batch', 'x'], 2, /no folder for the results/],
    [
      'a folder that is not there',
      ['batch', '/nowhere/x', '--out', 'y'],
      3,
      /there is no folder \/nowhere\/x: check/,
    ],
    ['nothing to join', ['merge', '/nowhere/x'], 3, /there is no folder \/nowhere\/x: name folders that/],
    [
      'results into what is heard',
      ['batch', fixture(''), '--out', `${fixture('')}/../fixtures`],
      2,
      /the results cannot go into \S+, which is to be heard/,
    ],
    [
      'a folder twice',
      ['batch', fixture(''), `${fixture('')}/../fixtures`, '--out', 'y'],
      2,
      /fixtures is named twice: name each folder once/,
    ],
    ['a file', ['batch', fixture('sung-joy.flac'), '--out', 'y'], 2, /is no folder/],
    ['a strange part', ['batch', fixture(''), '--out', 'y', '--part', '3/2'], 2, /--part takes a part/],
    [
      'no workers',
      ['batch', fixture(''), '--out', 'y', '--workers', '0'],
      2,
      /--workers takes a whole number/,
    ],
    ['nothing to merge', ['merge', fixture('')], 3, /has no summary/],
    ['merging nothing', ['merge'], 2, /there is no folder/],
  ])('%s', async (_name, args, status, message) => {
    const outcome = await inProcess(args);
    expect(outcome.status).toBe(status);
    expect(outcome.stderr).toMatch(message);
    expect(outcome.stderr).toMatch(/^cantilena: [^\n]+\n$/);
  });
});
