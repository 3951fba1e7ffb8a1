/** Which of several machines hears a song. */
import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { UsageError } from '../errors.js';
import type { Part, Song } from './types.js';

/** Bytes from the start of a file that tell it from others, together with its length: a million files of which 64 KiB are read are 64 GB. */
const HEAD_BYTES = 65_536;

/**
 * The part a song belongs to, 1..count, by its content: the same on every machine, whatever it is called, and the same when
 * other songs are added. Told from the file's length and first 64 KiB; a file that cannot be read belongs to part 1, which
 * reports it.
 */
export async function partOf({ path }: Song, count: number): Promise<number> {
  const hash = createHash('sha256');
  try {
    const file = await open(path);
    try {
      const { size } = await file.stat();
      const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
      hash.update(String(size)).update(buffer.subarray(0, bytesRead));
    } finally {
      await file.close();
    }
  } catch {
    return 1;
  }
  return (hash.digest().readUInt32BE(0) % count) + 1;
}

/**
 * Variables that array jobs set: the index, the number of the first index (null: another variable says), and the variable of
 * the count where there is one. Sources: the manuals of sbatch(1), qsub(1) of Grid Engine and of PBS, bsub(1), the
 * Kubernetes documentation, "Indexed Job".
 */
const ARRAY_JOBS: readonly {
  readonly index: string;
  readonly first: number | { readonly variable: string };
  readonly count: string | null;
}[] = [
  {
    index: 'SLURM_ARRAY_TASK_ID',
    first: { variable: 'SLURM_ARRAY_TASK_MIN' },
    count: 'SLURM_ARRAY_TASK_COUNT',
  },
  { index: 'JOB_COMPLETION_INDEX', first: 0, count: null },
  { index: 'SGE_TASK_ID', first: { variable: 'SGE_TASK_FIRST' }, count: null },
  { index: 'PBS_ARRAY_INDEX', first: 1, count: null },
  { index: 'LSB_JOBINDEX', first: 1, count: null },
];

/**
 * The part that `--part` names: `2/8`, or with `auto/8` (or `auto`, where the system tells how many there are) the index of
 * this task of an array job.
 * @throws UsageError
 */
export function parsePart(
  option: string,
  text: string,
  env: Readonly<Record<string, string | undefined>>,
): Part {
  const [, index, count] = /^(\d{1,6}|auto)(?:\/(\d{1,6}))?$/.exec(text) ?? [];
  const part =
    index === undefined
      ? null
      : index === 'auto'
        ? fromArray(count, env)
        : { index: Number(index), count: Number(count) };
  if (part === null || !(part.index >= 1 && part.index <= part.count)) {
    throw new UsageError(
      index === 'auto'
        ? `${option} ${text} needs an array job that says which of its tasks this is: write the part as in ${option} 2/8.`
        : `${option} takes a part and the number of parts, not ${text}: write it as in ${option} 2/8.`,
    );
  }
  return part;
}

function fromArray(
  count: string | undefined,
  env: Readonly<Record<string, string | undefined>>,
): Part | null {
  for (const job of ARRAY_JOBS) {
    const task = whole(env[job.index]);
    if (task === null) continue;
    const first = typeof job.first === 'number' ? job.first : (whole(env[job.first.variable]) ?? 1);
    const parts = whole(count) ?? (job.count === null ? null : whole(env[job.count]));
    return parts === null ? null : { index: task - first + 1, count: parts };
  }
  return null;
}

function whole(text: string | undefined): number | null {
  return text !== undefined && /^\d{1,9}$/.test(text) ? Number(text) : null;
}
