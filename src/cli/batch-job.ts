/** One song of a batch, in a process of its own: heard, measured, written. */
import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { createRequire } from 'node:module';
import { basename } from 'node:path';
import type { JobInput } from '../batch/pool.js';
import { findRecord, putSong } from '../batch/store.js';
import type { JobOutcome, SongDone } from '../batch/types.js';
import { CantilenaError, InputError } from '../errors.js';
import { recogniseInput } from '../pipeline/read-input.js';
import { systemReason } from '../system-reason.js';
import type { BatchJobOptions } from './batch-options.js';
import { melodyFrom } from './melody-input.js';
import { musicPlanOf } from './melody-options.js';
import { readBytes } from './read-bytes.js';
import { nameOf, wishesOf } from './results.js';
import { oneLine, type Speech } from './say.js';
import { startEngraverFor } from './sheet-files.js';
import { wishContent } from './wish-content.js';

const VERSION = (createRequire(import.meta.url)('../../package.json') as { version: string }).version;

const SILENT: Speech = {
  result: () => Promise.resolve(),
  word: () => Promise.resolve(),
  progress: () => Promise.resolve(() => Promise.resolve()),
};

/** Hears a song unless it was heard before, and never throws. */
export default async function hearSong(job: JobInput<BatchJobOptions>): Promise<JobOutcome> {
  try {
    return await heard(job);
  } catch (error) {
    // What the system refuses is no mistake of the program; anything else is, and is thrown on.
    const message =
      error instanceof CantilenaError
        ? error.message
        : `${job.song.name}: its files cannot be written: ${systemReason(error)}.`;
    return { kind: 'failed', song: { name: job.song.name, status: 'failed', message: oneLine(message) } };
  }
}

async function heard({ song, root, options, again }: JobInput<BatchJobOptions>): Promise<JobOutcome> {
  const { bytes } = await readBytes(song.path, { streams: process, fs });
  const content = { bytes, label: song.name };
  const identity = createHash('sha256')
    .update(JSON.stringify([VERSION, song.name, options]))
    .update(bytes)
    .digest('hex');
  const before = again ? null : await findRecord(root, song.name, identity);
  if (before !== null) return { kind: 'unchanged', song: before };
  if ((await recogniseInput(content)).kind !== 'recording') {
    throw new InputError(`${song.name} is no recording: hear it with cantilena notes, or take it away.`);
  }
  startEngraverFor(['sheet']);
  const { hearing, hand, names } = options;
  const plan = { input: song.path, hearing, music: { ...musicPlanOf({}), hand } };
  const { melody, track, warnings } = await melodyFrom(content, plan, SILENT);
  const title = nameOf(song.name);
  const parts = { melody, track, title, names, hand, sound: null };
  const wishes = wishesOf(
    { print: 'list', midi: null, musicXml: null, outFolder: '.', names, force: false, quiet: true },
    title,
  );
  const files = await Promise.all(
    wishes.map(async (wish) => ({ name: basename(wish.path), content: await wishContent(wish, parts) })),
  );
  const best = melody.scales[0]!;
  const done: SongDone = {
    name: song.name,
    status: 'done',
    seconds: melody.recording.seconds,
    notes: melody.notes.length,
    lines: melody.lines.length,
    key: `${best.tonic} ${best.mode}`,
    level: melody.grade.level,
    warnings,
    files: files.map(({ name }) => name),
  };
  putSong(root, done, identity, files);
  return { kind: 'heard', song: done };
}
