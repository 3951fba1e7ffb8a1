/** Runs the program in a process of its own and takes its time and its largest memory. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Readable } from 'node:stream';

export interface Run {
  /** Wall-clock seconds from start to exit. */
  readonly seconds: number;
  /** Seconds of processor time, user and system, of all its threads; null where it did not come to tell. */
  readonly cpuSeconds: number | null;
  /** Largest resident memory in megabytes (10⁶ bytes); null where the system does not tell. */
  readonly peakMegabytes: number | null;
  /** Exit status; null for a process that was ended by a signal. */
  readonly status: number | null;
  /** What it wrote on standard error. */
  readonly errors: string;
}

const TELLS_CPU = join(import.meta.dirname, 'tell-cpu.cjs');
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
    const child = spawn(process.execPath, ['--require', TELLS_CPU, ...args], {
      stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
    });
    let peakMegabytes: number | null = null;
    let errors = '';
    const look = () => {
      if (child.pid !== undefined) peakMegabytes = highWaterMark(child.pid) ?? peakMegabytes;
    };
    const timer = setInterval(look, LOOK_MS);
    // Both are pipes by the `stdio` above.
    const [, , complaints, told] = child.stdio as unknown as readonly [null, null, Readable, Readable];
    complaints.setEncoding('utf8').on('data', (text: string) => {
      errors += text;
    });
    let cpu = '';
    told.setEncoding('utf8').on('data', (text: string) => {
      cpu += text;
    });
    child.on('error', reject);
    child.on('close', (status) => {
      clearInterval(timer);
      const seconds = (performance.now() - begun) / 1000;
      resolve({ seconds, cpuSeconds: cpu === '' ? null : Number(cpu), peakMegabytes, status, errors });
    });
  });
}

/** Whether a program can be started. */
export function isThere(program: string, ...args: string[]): boolean {
  return spawnSync(program, args, { stdio: 'ignore' }).error === undefined;
}
