/** Results into files: looked at before the work begins, written whole or not at all. */
import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { OutputError } from '../errors.js';
import { systemCode, systemReason } from '../system-reason.js';
import type { FileSystem } from './context.js';
import type { FileIdentity } from './read-bytes.js';

/** A file that is to be written. */
export interface Target {
  readonly path: string;
  /** Whether its folder is made where it is not there. */
  readonly makesFolder: boolean;
}

/** A target that was looked at. */
export interface CheckedTarget extends Target {
  /** Where the bytes go: links are followed. */
  readonly realPath: string;
  /** False for pipes and devices, which take bytes and are no files that could be put in place. */
  readonly replaceable: boolean;
}

export interface TargetRules {
  /** Write over what is there. */
  readonly force: boolean;
  /** The input, which is never written over; null for standard input. */
  readonly input: FileIdentity | null;
}

/**
 * Looks at every target before the work begins.
 * @throws OutputError for a target that is a folder, is there already (without `force`), is the input, is named
 *   twice, or lies in a folder that is not there or cannot be written to
 */
export async function checkTargets(
  targets: readonly Target[],
  rules: TargetRules,
  fs: FileSystem,
): Promise<CheckedTarget[]> {
  const checked: CheckedTarget[] = [];
  for (const target of targets) {
    const found = await checkTarget(target, rules, fs);
    const twin = checked.find(({ realPath }) => realPath === found.realPath);
    if (twin?.replaceable) {
      throw new OutputError(`${target.path} would be written twice: give each result a name of its own.`);
    }
    checked.push(found);
  }
  return checked;
}

async function checkTarget(
  target: Target,
  { force, input }: TargetRules,
  fs: FileSystem,
): Promise<CheckedTarget> {
  const { path } = target;
  const stats = await orNull(fs.promises.stat(path), path);
  if (stats === null) {
    const folder = await checkFolder(target, fs);
    return { ...target, realPath: join(folder, basename(path)), replaceable: true };
  }
  if (stats.isDirectory()) {
    throw new OutputError(`${path} is a folder: name a file to write, such as ${join(path, 'song.mid')}.`);
  }
  if (input !== null && stats.dev === input.dev && stats.ino === input.ino) {
    throw new OutputError(`${path} is the input itself: write to another name.`);
  }
  const replaceable = stats.isFile();
  if (replaceable && !force) {
    throw new OutputError(`${path} is already there: give another name, or --force to write over it.`);
  }
  const realPath = await fs.promises.realpath(path);
  await mayWrite(replaceable ? dirname(realPath) : realPath, path, fs);
  return { ...target, realPath, replaceable };
}

/** The real path of the target's folder; the folder may be missing where it is to be made. */
async function checkFolder({ path, makesFolder }: Target, fs: FileSystem): Promise<string> {
  let folder = dirname(resolve(path));
  let missing = '';
  for (;;) {
    const stats = await orNull(fs.promises.stat(folder), path);
    if (stats !== null && !stats.isDirectory()) {
      throw new OutputError(`${path} cannot be written: ${folder} is not a folder; write somewhere else.`);
    }
    if (stats !== null) break;
    if (!makesFolder) {
      throw new OutputError(`${path} cannot be written: there is no folder ${dirname(path)}; make it first.`);
    }
    missing = join(basename(folder), missing);
    folder = dirname(folder);
  }
  await mayWrite(folder, path, fs);
  return join(await fs.promises.realpath(folder), missing);
}

async function mayWrite(place: string, path: string, fs: FileSystem): Promise<void> {
  try {
    await fs.promises.access(place, constants.W_OK);
  } catch (error) {
    const code = systemCode(error);
    const why = code === 'EACCES' ? `you may not write to ${place}` : systemReason(error);
    throw new OutputError(`${path} cannot be written: ${why}; write somewhere else.`);
  }
}

async function orNull<T>(found: Promise<T>, path: string): Promise<T | null> {
  try {
    return await found;
  } catch (error) {
    // Where a part of the path is a file, the search for the folder finds and names it.
    if (systemCode(error) === 'ENOENT' || systemCode(error) === 'ENOTDIR') return null;
    throw new OutputError(`${path} cannot be written: ${systemReason(error)}.`);
  }
}

/** A result and where it goes. */
export interface Result {
  readonly target: CheckedTarget;
  readonly content: string | Uint8Array;
}

/**
 * Writes every result under a temporary name beside its target, then gives all of them their names, so that no
 * target is ever half written. Temporary files are taken away when anything fails.
 * @throws OutputError
 */
export async function writeFiles(
  results: readonly Result[],
  rules: TargetRules,
  fs: FileSystem,
): Promise<void> {
  const waiting: { temporary: string; target: CheckedTarget }[] = [];
  let at = '';
  try {
    for (const { target, content } of results) {
      at = target.path;
      if (target.makesFolder) await fs.promises.mkdir(dirname(target.realPath), { recursive: true });
      if (!target.replaceable) {
        await fs.promises.writeFile(target.realPath, content);
        continue;
      }
      const temporary = join(dirname(target.realPath), `.cantilena-${randomUUID()}.tmp`);
      waiting.push({ temporary, target });
      await fs.promises.writeFile(temporary, content, { flag: 'wx' });
    }
    // Somebody may have put a file there since.
    await checkTargets(
      waiting.map(({ target }) => target),
      rules,
      fs,
    );
    while (waiting.length > 0) {
      const { temporary, target } = waiting[0]!;
      at = target.path;
      await fs.promises.rename(temporary, target.realPath);
      waiting.shift();
    }
  } catch (error) {
    for (const { temporary } of waiting) await fs.promises.rm(temporary, { force: true }).catch(() => {});
    if (error instanceof OutputError) throw error;
    throw new OutputError(`${at} cannot be written: ${systemReason(error)}.`);
  }
}
