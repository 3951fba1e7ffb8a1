/** Runs the program in a process of its own and takes its time and its largest memory. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

export interface Run {
  /** Wall-clock seconds from start to exit. */
  readonly seconds: number;
  /** Largest resident memory in megabytes (10⁶ bytes); null where the system does not tell. */
  readonly peakMegabytes: number | null;
  /** Exit status; null for a process that was ended by a signal. */
  readonly status: number | null;
  /** What it wrote on standard error. */
  readonly errors: string;
}

/** Milliseconds between looks at a child's memory. */
const LOOK_MS = 10;

/** The kernel's high-water mark of a process (`VmHWM`, kibibytes) in megabytes; null where it is not to be had. */
function highWaterMark(pid: number): number | null {
  try {
    const found = /^VmHWM:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, 'latin1'));
    return found ? (Number(found[1]) * 1024) / 1e6 : null;
  } catch {
    return null;
  }
}

/**
 * Runs `node` with the arguments, its output thrown away. The high-water mark never falls, so that looking at it
 * every 10 ms misses only what grows in the last 10 ms.
 */
export function runNode(args: readonly string[]): Promise<Run> {
  return new Promise((resolve, reject) => {
    const begun = performance.now();
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
    let peakMegabytes: number | null = null;
    let errors = '';
    const look = () => {
      if (child.pid !== undefined) peakMegabytes = highWaterMark(child.pid) ?? peakMegabytes;
    };
    const timer = setInterval(look, LOOK_MS);
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      errors += text;
    });
    child.on('error', reject);
    child.on('close', (status) => {
      clearInterval(timer);
      resolve({ seconds: (performance.now() - begun) / 1000, peakMegabytes, status, errors });
    });
  });
}

/** Whether a program can be started. */
export function isThere(program: string, ...args: string[]): boolean {
  return spawnSync(program, args, { stdio: 'ignore' }).error === undefined;
}
