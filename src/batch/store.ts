/** The folder of a batch: one folder a song, put in place whole or not at all. */
import { randomUUID } from 'node:crypto';
import { lstatSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir, readdir, readFile, realpath, rm, rmdir } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { OutputError } from '../errors.js';
import { systemCode } from '../system-reason.js';
import type { SongDone } from './types.js';

/** The record of a song, in its folder. */
const JOB_FILE = 'job.json';
const JOB_FORMAT = 'cantilena-batch-job';
/** Where results grow before they are put in place: inside the batch, so that putting them there is a rename. */
const GROWING = '.cantilena-growing';

export interface JobRecord {
  readonly format: typeof JOB_FORMAT;
  /** Tells content, options and program from others: where it is the same, so are the files. */
  readonly identity: string;
  readonly song: SongDone;
}

export interface SongFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/**
 * Makes the folder where it is not there, and clears away what runs that were killed on this machine have left growing.
 * @returns its real path
 */
export async function openStore(folder: string): Promise<string> {
  await mkdir(folder, { recursive: true });
  const root = await realpath(folder);
  const growing = await readdir(join(root, GROWING)).catch(() => []);
  for (const name of growing) {
    const [host, pid] = name.split('~');
    if (host === hostname() && !isAlive(Number(pid)))
      await rm(join(root, GROWING, name), { recursive: true });
  }
  return root;
}

/** Takes the folder of growing results away where nobody uses it. */
export async function closeStore(root: string): Promise<void> {
  await rmdir(join(root, GROWING)).catch(() => {});
}

/** The record of a song that was heard before; null where there is none, or not of this identity, or a file is gone. */
export async function findRecord(root: string, name: string, identity: string): Promise<SongDone | null> {
  const folder = join(root, ...name.split('/'));
  try {
    const record = JSON.parse(await readFile(join(folder, JOB_FILE), 'utf8')) as JobRecord;
    if (record.format !== JOB_FORMAT || record.identity !== identity) return null;
    const there = new Set(await readdir(folder));
    return record.song.files.every((file) => there.has(file)) ? record.song : null;
  } catch {
    return null;
  }
}

/**
 * Writes a song's files and its record into a folder of their own and gives that folder its name. What a batch wrote there
 * before is replaced; anything else is not touched. Waits for the disk itself: a process of a batch has nothing else to do
 * meanwhile, and threads that would write take the processor from another one.
 * @throws OutputError where something else is there, or the way leads through a link
 */
export function putSong(root: string, song: SongDone, identity: string, files: readonly SongFile[]): void {
  const steps = song.name.split('/');
  const target = join(root, ...steps);
  makeParents(root, steps.slice(0, -1));
  const isOld = isOwn(target);
  const own = join(root, GROWING, `${hostname()}~${process.pid}~${randomUUID()}`);
  const record: JobRecord = { format: JOB_FORMAT, identity, song };
  try {
    mkdirSync(join(own, 'new'), { recursive: true });
    for (const { name, content } of files) writeFileSync(join(own, 'new', name), content, { flag: 'wx' });
    writeFileSync(join(own, 'new', JOB_FILE), `${JSON.stringify(record, null, 2)}\n`, { flag: 'wx' });
    if (isOld) renameSync(target, join(own, 'old'));
    renameSync(join(own, 'new'), target);
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
}

/** Folders on the way are made; a link among them is refused, because it may lead out of the batch. */
function makeParents(root: string, steps: readonly string[]): void {
  let at = root;
  for (const step of steps) {
    at = join(at, step);
    try {
      mkdirSync(at);
    } catch (error) {
      if (systemCode(error) !== 'EEXIST') throw error;
    }
    if (!lstatSync(at).isDirectory()) {
      throw new OutputError(`${at} is in the way: it is no folder, or a link to one; give another --out.`);
    }
  }
}

/** Whether there is a folder of a batch; false where there is nothing. */
function isOwn(target: string): boolean {
  const there = lstatSync(target, { throwIfNoEntry: false });
  if (there === undefined) return false;
  const files = there.isDirectory() ? readdirSync(target) : [];
  if (there.isDirectory() && files.includes(JOB_FILE)) return true;
  throw new OutputError(
    `${target} is there already and no batch wrote it: take it away, or give another --out.`,
  );
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
