/** Summaries of several machines → one. */
import { readdir, readFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { InputError } from '../errors.js';
import { systemCode, systemReason } from '../system-reason.js';
import { SUMMARY_FORMAT, SUMMARY_VERSION, type Summary, summaryOf } from './summary.js';

/** `summary.json`, and `summary-2-of-8.json` of a part. */
const SUMMARY_FILE = /^summary(-\d+-of-\d+)?\.json$/;

/** Name of a summary: that of all, or of a part. */
export function summaryName(
  part: { readonly index: number; readonly count: number } | null,
  ending: string,
): string {
  return part === null ? `summary.${ending}` : `summary-${part.index}-of-${part.count}.${ending}`;
}

/**
 * Joins the summaries in the folders: where a folder has summaries of parts, those, else its whole one. A song that several
 * of them name counts once, heard rather than failed.
 * @param from folder where the joined summary will lie, for the links
 * @throws InputError where a folder has none, or one that is damaged
 */
export async function mergeSummaries(folders: readonly string[], from: string): Promise<Summary> {
  const songs = new Map<string, Summary['songs'][number]>();
  const failed = new Map<string, Summary['failed'][number]>();
  for (const folder of folders) {
    const way = relative(from, folder)
      .split(sep)
      .filter((step) => step !== '');
    for (const summary of await summariesIn(folder)) {
      for (const song of summary.songs) {
        if (!songs.has(song.name)) songs.set(song.name, { ...song, folder: [...way, song.folder].join('/') });
      }
      for (const song of summary.failed) if (!failed.has(song.name)) failed.set(song.name, song);
    }
  }
  return summaryOf(
    [...songs.values()],
    [...failed.values()].filter(({ name }) => !songs.has(name)),
  );
}

async function summariesIn(folder: string): Promise<Summary[]> {
  const names = await readdir(folder).catch((error: unknown) => {
    const why =
      systemCode(error) === 'ENOENT'
        ? `there is no folder ${folder}`
        : `${folder} cannot be read (${systemReason(error)})`;
    throw new InputError(`${why}: name folders that cantilena batch wrote.`);
  });
  const all = names.filter((name) => SUMMARY_FILE.test(name)).sort();
  const parts = all.filter((name) => name !== 'summary.json');
  const own = parts.length > 0 ? parts : all;
  if (own.length === 0) {
    throw new InputError(`${folder} has no summary of a batch: name folders that cantilena batch wrote.`);
  }
  return Promise.all(own.map((name) => readSummary(join(folder, name))));
}

async function readSummary(path: string): Promise<Summary> {
  const text = await readFile(path, 'utf8');
  const summary = parsed(text);
  if (summary === null) throw new InputError(`${path} is no summary of a batch: run that batch again.`);
  return summary;
}

function parsed(text: string): Summary | null {
  try {
    const found = JSON.parse(text) as Partial<Summary> | null;
    const isSummary =
      found?.format === SUMMARY_FORMAT &&
      found.version === SUMMARY_VERSION &&
      Array.isArray(found.songs) &&
      Array.isArray(found.failed) &&
      found.songs.every(
        (song) =>
          typeof song?.name === 'string' && typeof song.folder === 'string' && typeof song.level === 'number',
      );
    return isSummary ? (found as Summary) : null;
  } catch {
    return null;
  }
}
