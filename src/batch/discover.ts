/** Folders → the recordings in them. */
import { readdir, realpath, stat } from 'node:fs/promises';
import { basename, extname, join, resolve } from 'node:path';
import { systemReason } from '../system-reason.js';
import type { Song, SongFailed } from './types.js';

/** Endings of the kinds of file that are heard. What a file is is told by its content; the ending says what to try. */
const ENDINGS: ReadonlySet<string> = new Set([
  '.wav',
  '.wave',
  '.bwf',
  '.rf64',
  '.mp3',
  '.flac',
  '.ogg',
  '.oga',
  '.opus',
  '.m4a',
  '.mp4',
  '.aac',
]);

export interface Found {
  /** In order of name. */
  readonly songs: readonly Song[];
  /** Folders that cannot be read, in order of name. */
  readonly failures: readonly SongFailed[];
}

/**
 * All recordings under the folders, however deep. Hidden files and folders are left out, and so are links to folders, which
 * may lead anywhere; a link to a file counts as that file. With several folders each name begins with its folder's name,
 * and equal ones are numbered (`songs`, `songs-2`).
 * @param leftOut real path of a folder that is not looked into: where the results go
 */
export async function findSongs(folders: readonly string[], leftOut: string | null): Promise<Found> {
  const songs: Song[] = [];
  const failures: SongFailed[] = [];
  const titles = folders.length === 1 ? [''] : uniqueTitles(folders);
  for (const [i, folder] of folders.entries()) await walk(folder, titles[i]!, leftOut, { songs, failures });
  return { songs: songs.sort(byName), failures: failures.sort(byName) };
}

/** By code unit, so that the order is the same in every language's settings. */
export function byName(a: { readonly name: string }, b: { readonly name: string }): number {
  return a.name < b.name ? -1 : a.name > b.name ? 1 : 0;
}

function uniqueTitles(folders: readonly string[]): string[] {
  const taken = new Set<string>();
  return folders.map((folder) => {
    const title = basename(resolve(folder)) || 'folder';
    let own = title;
    for (let i = 2; taken.has(own.toLowerCase()); i++) own = `${title}-${i}`;
    taken.add(own.toLowerCase());
    return own;
  });
}

interface Finding {
  readonly songs: Song[];
  readonly failures: SongFailed[];
}

async function walk(folder: string, name: string, leftOut: string | null, found: Finding): Promise<void> {
  if (leftOut !== null && (await realpath(folder).catch(() => folder)) === leftOut) return;
  const entries = await readdir(folder, { withFileTypes: true }).catch((error: unknown) => {
    found.failures.push({
      name: name || basename(resolve(folder)),
      status: 'failed',
      message: `the folder cannot be read: ${systemReason(error)}.`,
    });
    return [];
  });
  for (const entry of entries) {
    if (entry.name.startsWith('.')) continue;
    const path = join(folder, entry.name);
    const own = name === '' ? entry.name : `${name}/${entry.name}`;
    if (entry.isDirectory()) await walk(path, own, leftOut, found);
    else if (ENDINGS.has(extname(entry.name).toLowerCase()) && (await isFile(entry, path)))
      found.songs.push({ path, name: own });
  }
}

async function isFile(
  entry: { isFile(): boolean; isSymbolicLink(): boolean },
  path: string,
): Promise<boolean> {
  if (!entry.isSymbolicLink()) return entry.isFile();
  return stat(path).then(
    (target) => target.isFile(),
    // A link to nothing is a song that cannot be read: the worker says so.
    () => true,
  );
}
