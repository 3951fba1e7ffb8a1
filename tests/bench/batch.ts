/**
 * What `batch` does with many recordings: `npx tsx tests/bench/batch.ts FOLDER [--songs 200] [--kills 20]`.
 *
 * Takes recordings from under FOLDER (links in a folder of its own), hears them with one worker and with two, and then with two
 * again, killed at random moments and started anew, and holds the results against each other byte by byte. The program
 * must be compiled.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, relative, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { findSongs } from '../../src/batch/discover.js';

const BIN = resolve(import.meta.dirname, '../../bin/cantilena.js');

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    songs: { type: 'string', default: '200' },
    kills: { type: 'string', default: '20' },
  },
});
const [folder] = positionals;
if (folder === undefined) {
  console.error('name a folder of recordings: npx tsx tests/bench/batch.ts FOLDER');
  process.exit(2);
}

const work = mkdtempSync(join(tmpdir(), 'cantilena-batch-bench-'));
try {
  await measure(folder, Number(values.songs), Number(values.kills));
} finally {
  rmSync(work, { recursive: true, force: true });
}

async function measure(root: string, count: number, kills: number): Promise<void> {
  const songs = await linked(root, count);
  console.log(`${songs} recordings from ${root}`);
  const one = await timed(() => run('one', '1'));
  console.log(`one worker: ${one.toFixed(1)} s`);
  const two = await timed(() => run('two', '2'));
  console.log(`two workers: ${two.toFixed(1)} s, ${(one / two).toFixed(2)} times as fast`);
  const undisturbed = tree(join(work, 'one'));
  console.log(`two workers gave ${same(tree(join(work, 'two')), undisturbed)}`);

  let killed = 0;
  for (let i = 0; i < kills; i++) {
    // Moments spread over the whole run, which goes on after each of them.
    const seconds = 0.3 + (2 * two * Math.random()) / kills;
    if (await run('killed', '2', seconds)) break;
    killed++;
  }
  await run('killed', '2');
  console.log(`killed ${killed} times and resumed: ${same(tree(join(work, 'killed')), undisturbed)}`);
}

/** Links to the first recordings in order of a hash of their names: a mixture that is the same every time. */
async function linked(root: string, count: number): Promise<number> {
  const { songs } = await findSongs([root], null);
  const hash = (name: string) => createHash('sha256').update(name).digest('hex');
  const chosen = [...songs].sort((a, b) => (hash(a.name) < hash(b.name) ? -1 : 1)).slice(0, count);
  mkdirSync(join(work, 'songs'));
  for (const { path, name } of chosen) {
    symlinkSync(
      resolve(path),
      join(work, 'songs', `${name.replaceAll('/', '~').replace(basename(path), '')}${basename(path)}`),
    );
  }
  return chosen.length;
}

/** Runs the program, killed with all its workers after some seconds; whether it ended by itself. */
async function run(out: string, workers: string, killAfterSeconds?: number): Promise<boolean> {
  const child = spawn(
    process.execPath,
    [BIN, 'batch', join(work, 'songs'), '--out', join(work, out), '--workers', workers, '--quiet'],
    { detached: true, stdio: 'ignore' },
  );
  const ended = new Promise<boolean>((done) => {
    child.on('close', (_code, signal) => done(signal === null));
  });
  if (killAfterSeconds === undefined) return ended;
  const first = await Promise.race([ended, wait(1000 * killAfterSeconds, 'time' as const)]);
  if (first !== 'time') return first;
  process.kill(-child.pid!, 'SIGKILL');
  return ended;
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const begun = performance.now();
  await work();
  return (performance.now() - begun) / 1000;
}

/** Every file and a hash of what is in it. */
function tree(root: string): Map<string, string> {
  const found = new Map<string, string>();
  const walk = (at: string) => {
    for (const name of readdirSync(at)) {
      const path = join(at, name);
      if (statSync(path).isDirectory()) walk(path);
      else found.set(relative(root, path), createHash('sha256').update(readFileSync(path)).digest('hex'));
    }
  };
  walk(root);
  return found;
}

function same(found: ReadonlyMap<string, string>, wanted: ReadonlyMap<string, string>): string {
  const names = new Set([...found.keys(), ...wanted.keys()]);
  const differing = [...names].filter((name) => found.get(name) !== wanted.get(name));
  return differing.length === 0
    ? `the same ${wanted.size} files, byte for byte`
    : `${differing.length} of ${names.size} files that differ: ${differing.slice(0, 5).join(', ')}`;
}
