/** How far a batch is: one line that is written again on a terminal, a line a song elsewhere. */
import type { JobOutcome } from '../batch/types.js';
import { counted } from '../write/counted.js';
import { cutStart } from '../write/screen/text-width.js';
import { columnsOf } from './columns.js';
import type { Context } from './context.js';
import { oneLine, type Speech } from './say.js';

interface BatchProgress {
  begin(name: string): Promise<void>;
  /** A song is done. */
  end(outcome: JobOutcome): Promise<void>;
  /** Takes the line away. */
  finish(): Promise<void>;
}

/** Songs after which the time left is told: the first ones say little. */
const SONGS_TO_TELL = 3;

export function createProgress(
  total: number,
  speech: Speech,
  { streams, env }: Pick<Context, 'streams' | 'env'>,
  quiet: boolean,
  now: () => number = () => performance.now(),
): BatchProgress {
  const redraws = streams.stderr.isTTY === true && env.TERM !== 'dumb' && !quiet;
  const begun = now();
  let done = 0;
  let heard = 0;
  let failed = 0;
  let wipe = () => Promise.resolve();
  const columns = columnsOf(streams.stderr);
  const draw = async (name: string) => {
    await wipe();
    const spent = (now() - begun) / 1000;
    const left = heard < SONGS_TO_TELL ? '' : ` · ${timeWords((spent / done) * (total - done))} left`;
    const bad = failed === 0 ? '' : ` · ${failed} failed`;
    const head = `${done} of ${total}${bad}${left} · `;
    wipe = await speech.progress(`${head}${cutStart(oneLine(name), columns - 1 - head.length)}`);
  };
  return {
    async begin(name) {
      if (redraws) await draw(name);
    },
    async end({ kind, song }) {
      done++;
      if (kind === 'heard') heard++;
      if (kind === 'failed') failed++;
      if (redraws) {
        await wipe();
        wipe = () => Promise.resolve();
        await draw(song.name);
        return;
      }
      const what =
        song.status === 'failed'
          ? 'not heard'
          : `${counted(song.notes, 'note')}, ${song.key}, grade ${song.level.toFixed(1)}${kind === 'unchanged' ? ' (heard before)' : ''}`;
      await speech.word(`[${done}/${total}] ${oneLine(song.name)}: ${what}`);
    },
    finish: () => wipe(),
  };
}

/** `40 s`, `3 min`, `2 h 5 min`: no finer than it is known. */
function timeWords(seconds: number): string {
  if (seconds < 90) return `${Math.max(1, Math.round(seconds))} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
