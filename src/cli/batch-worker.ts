/** Where a process of a batch begins. It loads nothing before it is deaf to Ctrl-C, which takes a second elsewhere. */
import type { JobInput } from '../batch/pool.js';
import type { JobOutcome } from '../batch/types.js';
import type { BatchJobOptions } from './batch-options.js';

// Ctrl-C goes to every process of the terminal: the one that hands out the songs decides what comes of it.
process.on('SIGINT', () => {});

export default async function hearSong(job: JobInput<BatchJobOptions>): Promise<JobOutcome> {
  return (await import('./batch-job.js')).default(job);
}
