/** Runs the program in this process, or as a process of its own, and gives back all that it said. */
import { spawnSync } from 'node:child_process';
import * as nodeFs from 'node:fs';
import { join, resolve } from 'node:path';
import { Readable, Writable } from 'node:stream';
import type { FileSystem, Output } from '../../src/cli/context.js';
import { main } from '../../src/cli/main.js';

export const ROOT = resolve(import.meta.dirname, '../..');
export const BIN = join(ROOT, 'bin/cantilena.js');

export const fixture = (name: string): string => join(ROOT, 'fixtures', name);

export interface Outcome {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Surroundings {
  readonly stdin?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
  /** Columns of a terminal that both outputs are; none where they are pipes. */
  readonly terminal?: number;
  readonly fs?: FileSystem;
}

function collector(columns: number | undefined): Output & { text(): string } {
  const parts: Buffer[] = [];
  const stream = new Writable({
    write(part: Buffer, _encoding, done) {
      parts.push(part);
      done();
    },
  });
  const text = () => Buffer.concat(parts).toString('utf8');
  return Object.assign(stream, { text, ...(columns === undefined ? {} : { isTTY: true, columns }) });
}

/** Through `main`, with streams of its own. */
export async function inProcess(argv: readonly string[], around: Surroundings = {}): Promise<Outcome> {
  const stdout = collector(around.terminal);
  const stderr = collector(around.terminal);
  const stdin = Readable.from(around.stdin === undefined ? [] : [Buffer.from(around.stdin)]);
  const streams = { stdin, stdout, stderr };
  const status = await main({ argv, env: around.env ?? {}, streams, fs: around.fs ?? nodeFs });
  return { status, stdout: stdout.text(), stderr: stderr.text() };
}

/** As `node bin/cantilena.js`, for which the program must be compiled. */
export function asProcess(
  argv: readonly string[],
  { stdin = '' }: Pick<Surroundings, 'stdin'> = {},
): Outcome {
  needBuild();
  const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, ...argv], {
    input: stdin,
    encoding: 'utf8',
    timeout: 30_000,
    maxBuffer: 2 ** 26,
  });
  return { status, stdout, stderr };
}

/** A line of shell, with `$CANTILENA` for the program. */
export function inShell(line: string, folder: string): Outcome {
  needBuild();
  const { status, stdout, stderr } = spawnSync('bash', ['-c', line], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 30_000,
    env: { ...process.env, CANTILENA: `${process.execPath} ${BIN}` },
  });
  return { status, stdout, stderr };
}

function needBuild(): void {
  if (!nodeFs.existsSync(join(ROOT, 'dist/cli/main.js'))) {
    throw new Error('The program is not compiled, and this test starts it: run `npm run build` first.');
  }
}
