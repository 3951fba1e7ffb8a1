/** Songs → outcomes, several at a time, each in a process of its own. */
import { Tinypool } from 'tinypool';
import type { JobOutcome, Song } from './types.js';
import { workerFlags } from './worker-flags.js';

/** What a worker is told. */
export interface JobInput<Options> {
  readonly song: Song;
  /** Real path of the batch's folder. */
  readonly root: string;
  readonly options: Options;
  /** Whether a song that was heard before is heard again. */
  readonly again: boolean;
}

export interface PoolPlan<Options> {
  /** URL of the module whose default export hears one song: `(job: JobInput) => Promise<JobOutcome>`. */
  readonly workerUrl: string;
  readonly workers: number;
  readonly jobs: readonly JobInput<Options>[];
  /** Aborted: no further song is begun; those that are being heard are finished. */
  readonly stop: AbortSignal;
  /** Called after each song, in the order in which they end. */
  readonly onOutcome: (outcome: JobOutcome, job: JobInput<Options>) => Promise<void>;
  /** Called before each song. */
  readonly onBegin: (job: JobInput<Options>) => void;
}

/**
 * Processes rather than threads: a decoder that takes all memory, or a native library that crashes, then ends one song and
 * not the batch. A process that dies is replaced by the pool, and its song failed. Every worker takes the next song when it
 * has ended one, so the order of the work does not change the results.
 */
export async function runPool<Options>(plan: PoolPlan<Options>): Promise<void> {
  const { workerUrl, jobs, stop, onOutcome, onBegin } = plan;
  const workers = Math.max(1, Math.min(plan.workers, jobs.length));
  const pool = new Tinypool({
    filename: workerUrl,
    runtime: 'child_process',
    minThreads: workers,
    maxThreads: workers,
    concurrentTasksPerWorker: 1,
    execArgv: [...process.execArgv, ...workerFlags(process.versions.node)],
  });
  let next = 0;
  const work = async () => {
    while (next < jobs.length && !stop.aborted) {
      const job = jobs[next++]!;
      onBegin(job);
      const outcome = await (pool.run(job) as Promise<JobOutcome>).catch((error: unknown) =>
        stop.aborted ? null : lost(job.song, error),
      );
      // What stops a batch may end a process that has hardly begun: its song was not tried, and the next run hears it.
      if (outcome !== null) await onOutcome(outcome, job);
    }
  };
  try {
    await Promise.all(Array.from({ length: workers }, work));
  } finally {
    await pool.destroy();
  }
}

function lost({ name }: Song, error: unknown): JobOutcome {
  const reason = (error instanceof Error ? error.message : String(error)).replace(/\.$/, '');
  const message = `the process that heard it ended (${reason}): hear it alone with cantilena notes.`;
  return { kind: 'failed', song: { name, status: 'failed', message } };
}
