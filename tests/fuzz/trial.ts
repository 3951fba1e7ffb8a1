/** Tries cases in a process of their own, which may crash, hang or take too much. */
import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Answer, Ask } from './protocol.js';

/** What became of the cases of one path. */
export interface Tally {
  readonly path: string;
  cases: number;
  crashes: number;
  hangs: number;
  wrong: number;
  /** Most that the process held, and the slowest case. */
  peakMegabytes: number;
  slowestSeconds: number;
  /** Memory after a tenth of the cases and at the end; null where the process had to be started anew. */
  early: number | null;
  late: number | null;
}

export interface Finding {
  readonly path: string;
  readonly seed: number;
  readonly what: string;
}

export interface TrialPlan {
  readonly path: string;
  readonly seeds: readonly number[];
  /** Without the cutting of fixtures, for tests. */
  readonly quick: boolean;
  /** Milliseconds since 1970 after which no further case is begun. */
  readonly endsAt: number;
  readonly onFinding: (finding: Finding) => void;
}

/** Longest a case may take, in seconds of its process; on the clock where the system does not tell, or nothing happens. */
const LIMIT_SECONDS = 10;
/** Seconds on the clock after which a case that does nothing hangs too: others may have the machine. */
const LONGEST_WAIT_SECONDS = 120;
/** Heap of the process, and the most that it may hold with all that lies outside the heap, in megabytes. */
const HEAP_MEGABYTES = 256;
export const MOST_MEGABYTES = 700;

const ARGUMENTS = ['--import', 'tsx', '--expose-gc', `--max-old-space-size=${HEAP_MEGABYTES}`];

async function start(quick: boolean): Promise<ChildProcess> {
  const child = fork(join(import.meta.dirname, 'child.ts'), quick ? ['quick'] : [], {
    execArgv: ARGUMENTS,
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  });
  const started = once(child, 'message').then(() => true);
  if (await Promise.race([started, once(child, 'exit').then(() => false)])) return child;
  throw new Error(
    'the process that tries the cases does not start: run tests/fuzz/child.ts with tsx to see why',
  );
}

/** Ticks of the clock in `/proc` (sysconf's CLK_TCK, 100 on every Linux of today). */
const TICKS_A_SECOND = 100;

/** Seconds of processor that a process has used (proc(5), fields 14 and 15 of stat); null where that is not to be had. */
function usedSeconds(pid: number | undefined): number | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'latin1');
    const [user, system] = stat
      .slice(stat.lastIndexOf(')') + 2)
      .split(' ')
      .slice(11, 13)
      .map(Number);
    return (user! + system!) / TICKS_A_SECOND;
  } catch {
    return null;
  }
}

/** The answer, or how the process ended without one. */
function ask(child: ChildProcess, question: Ask): Promise<Answer | 'hang' | 'crash'> {
  return new Promise((resolve) => {
    const end = (answer: Answer | 'hang' | 'crash') => {
      clearInterval(timer);
      child.off('message', end).off('exit', onExit);
      resolve(answer);
    };
    const onExit = () => end('crash');
    const [begun, used] = [Date.now(), usedSeconds(child.pid)];
    const look = () => {
      const waited = (Date.now() - begun) / 1000;
      const spent = used === null ? waited : (usedSeconds(child.pid) ?? used) - used;
      if (spent < LIMIT_SECONDS && waited < LONGEST_WAIT_SECONDS) return;
      end('hang');
      child.kill('SIGKILL');
    };
    const timer = setInterval(look, 1000);
    child.on('message', end).on('exit', onExit);
    child.send(question, (error) => error && onExit());
  });
}

/** Tries the seeds of one path in their order. */
export async function tryPath({ path, seeds, quick, endsAt, onFinding }: TrialPlan): Promise<Tally> {
  const tally: Tally = {
    path,
    cases: 0,
    crashes: 0,
    hangs: 0,
    wrong: 0,
    peakMegabytes: 0,
    slowestSeconds: 0,
    early: null,
    late: null,
  };
  let child: ChildProcess | null = null;
  let overfull = false;
  const tenth = Math.max(1, Math.floor(seeds.length / 10));
  for (const [index, seed] of seeds.entries()) {
    if (Date.now() > endsAt) break;
    child ??= await start(quick);
    const settle = index + 1 === tenth || index + 1 === seeds.length;
    const answer = await ask(child, { path, seed, settle });
    tally.cases++;
    if (typeof answer === 'string') {
      tally[answer === 'hang' ? 'hangs' : 'crashes']++;
      onFinding({ path, seed, what: answer });
      child = null;
      tally.early = null;
      continue;
    }
    if (answer.wrong !== null) {
      tally.wrong++;
      onFinding({ path, seed, what: answer.wrong });
    }
    if (answer.peakMegabytes > MOST_MEGABYTES && !overfull) {
      overfull = true;
      onFinding({ path, seed, what: `memory: ${answer.peakMegabytes.toFixed(0)} MB` });
    }
    tally.peakMegabytes = Math.max(tally.peakMegabytes, answer.peakMegabytes);
    tally.slowestSeconds = Math.max(tally.slowestSeconds, answer.cpuSeconds);
    if (index + 1 === tenth) tally.early = answer.residentMegabytes;
    if (index + 1 === seeds.length) tally.late = answer.residentMegabytes;
  }
  child?.kill();
  return tally;
}
