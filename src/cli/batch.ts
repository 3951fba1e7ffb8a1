/** The commands `batch` and `merge`: folders → a folder a song, and a summary. */
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { findSongs } from '../batch/discover.js';
import { mergeSummaries } from '../batch/merge.js';
import { parsePart, partOf } from '../batch/part.js';
import { runPool } from '../batch/pool.js';
import { closeStore, openStore } from '../batch/store.js';
import { summaryOf } from '../batch/summary.js';
import type { Part, Song, SongDone, SongFailed } from '../batch/types.js';
import { EXIT, InputError, OutputError, UsageError } from '../errors.js';
import { systemCode, systemReason } from '../system-reason.js';
import { counted } from '../write/counted.js';
import type { BatchPlan, MergePlan } from './batch-options.js';
import { createProgress } from './batch-progress.js';
import { printSummary, writeSummary } from './batch-summary.js';
import type { Context } from './context.js';
import { checkMelodyPlan } from './melody-input.js';
import { musicPlanOf } from './melody-options.js';
import { createSpeech, type Speech } from './say.js';
import { shellWord } from './shell-word.js';

/**
 * Finds the songs, has them heard, writes the summary, prints it.
 * @returns the exit status: 1 where a song failed
 * @throws CantilenaError
 */
export async function runBatch(plan: BatchPlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const part = plan.part === null ? null : parsePart('--part', plan.part, context.env);
  await checkFolders(plan, context);
  const { songs, failures } = await findSongs(plan.folders, await resultsOf(plan, context));
  const own = await ownSongs(songs, part);
  if (songs.length === 0 && failures.length === 0) {
    throw new InputError(
      `there is no recording in ${plan.folders.join(', ')}: WAV, MP3, FLAC, Ogg, Opus, M4A and AAC files are heard.`,
    );
  }
  // Made only once there is something to put there.
  const root = await openStore(plan.out).catch((error: unknown) => {
    throw new OutputError(`${plan.out} cannot be written: ${systemReason(error)}; give another --out.`);
  });
  const share = part === null ? '' : `, ${own.length} of them in part ${part.index} of ${part.count}`;
  await speech.word(`${counted(songs.length, 'recording')} found${share}.`);

  const { done, failed, stopped } = await hearAll(own, root, plan, speech, context);
  // Folders that cannot be read belong to the first part, so that they are told once.
  const lost = part === null || part.index === 1 ? failures : [];
  const summary = summaryOf(
    done.map((song) => ({ ...song, folder: song.name })),
    [...lost, ...failed],
  );
  if (stopped) {
    await speech.word(
      `stopped after ${done.length + failed.length} of ${own.length}: run the same command again to go on.`,
    );
  }
  await writeSummary(summary, root, part, { force: true }, context);
  await closeStore(root);
  await printSummary(summary, plan.json, speech, context);
  return stopped || summary.failed.length > 0 ? EXIT.someFailed : EXIT.done;
}

/** @throws UsageError, InputError */
async function checkFolders(plan: BatchPlan, context: Context): Promise<void> {
  const { hearing } = plan.job;
  await checkMelodyPlan({ input: '-', hearing, music: musicPlanOf({}) }, context);
  for (const folder of plan.folders) {
    const stats = await context.fs.promises.stat(folder).catch((error: unknown) => {
      if (systemCode(error) === 'ENOENT')
        throw new InputError(`there is no folder ${folder}: check its name.`);
      throw new InputError(`${folder} cannot be read: ${systemReason(error)}.`);
    });
    if (!stats.isDirectory()) {
      throw new UsageError(
        `${folder} is no folder: hear one recording with cantilena notes ${shellWord(folder)}.`,
      );
    }
  }
}

/**
 * Real path of the folder of results, which is not looked into; null where there is none yet.
 * @throws UsageError where it is one of those that are to be heard, or one of those is named twice
 */
async function resultsOf({ folders, out }: BatchPlan, { fs }: Context): Promise<string | null> {
  const results = await fs.promises.realpath(out).catch(() => null);
  const seen = new Set<string>();
  for (const folder of folders) {
    const real = await fs.promises.realpath(folder);
    if (real === results) {
      throw new UsageError(`the results cannot go into ${out}, which is to be heard: give another --out.`);
    }
    if (seen.has(real)) throw new UsageError(`${folder} is named twice: name each folder once.`);
    seen.add(real);
  }
  return results;
}

async function ownSongs(songs: readonly Song[], part: Part | null): Promise<readonly Song[]> {
  if (part === null) return songs;
  const own: Song[] = [];
  for (const song of songs) if ((await partOf(song, part.count)) === part.index) own.push(song);
  return own;
}

async function hearAll(
  songs: readonly Song[],
  root: string,
  plan: BatchPlan,
  speech: Speech,
  context: Context,
) {
  const done: SongDone[] = [];
  const failed: SongFailed[] = [];
  const stop = new AbortController();
  const progress = createProgress(songs.length, speech, context, plan.quiet);
  const undo = context.onInterrupt?.(() => {
    // The second time a person means it: what is being heard is given up. Nothing of it is in place yet.
    if (stop.signal.aborted) process.exit(EXIT.someFailed);
    stop.abort();
  });
  try {
    await runPool({
      workerUrl: new URL('./batch-worker.js', import.meta.url).href,
      workers: plan.workers ?? availableParallelism(),
      jobs: songs.map((song) => ({ song, root, options: plan.job, again: plan.again })),
      stop: stop.signal,
      onBegin: ({ song }) => void progress.begin(song.name),
      async onOutcome(outcome) {
        if (outcome.song.status === 'done') done.push(outcome.song);
        else failed.push(outcome.song);
        await progress.end(outcome);
      },
    });
  } finally {
    undo?.();
    await progress.finish();
  }
  return { done, failed, stopped: stop.signal.aborted };
}

/** Joins summaries, writes and prints what comes of it. */
export async function runMerge(plan: MergePlan, context: Context): Promise<number> {
  const speech = createSpeech(context, plan.quiet);
  const summary = await mergeSummaries(plan.folders, plan.out ?? '.');
  if (plan.out !== null) {
    await writeSummary(summary, plan.out, null, { force: plan.force }, context);
    await speech.word(`wrote ${join(plan.out, 'index.html')}`);
  }
  await printSummary(summary, plan.json, speech, context);
  return summary.failed.length > 0 ? EXIT.someFailed : EXIT.done;
}
