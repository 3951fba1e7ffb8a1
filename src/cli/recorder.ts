/** The system's recorder: whichever of three common programs is there, started to send bare samples. */
import { spawn } from 'node:child_process';
import { constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import type { Readable } from 'node:stream';
import { InputError } from '../errors.js';
import type { Context } from './context.js';

/** What the recorders are asked for: 16-bit samples of one channel, so many a second. */
export const RECORDER_RATE = 16_000;

export interface Recorder {
  /** Name of the program. */
  readonly name: string;
  readonly sound: Readable;
  /** Ends the program. */
  stop(): void;
  /** Why it ended by itself: a sentence of its own, or null where it was stopped or said nothing. */
  complaint(): Promise<string | null>;
}

/** Programs and their arguments (their manuals: arecord(1) of alsa-utils, sox(1), ffmpeg(1) and ffmpeg-devices(1)). */
const RECORDERS: readonly {
  readonly name: string;
  readonly args: (platform: string) => readonly string[] | null;
}[] = [
  {
    name: 'arecord',
    args: () => ['-q', '-t', 'raw', '-f', 'S16_LE', '-c', '1', '-r', String(RECORDER_RATE)],
  },
  {
    name: 'sox',
    args: () => [
      '-q',
      '-d',
      '-t',
      'raw',
      '-e',
      'signed',
      '-b',
      '16',
      '-c',
      '1',
      '-r',
      String(RECORDER_RATE),
      '-',
    ],
  },
  {
    name: 'ffmpeg',
    args: (platform) => {
      const from = FFMPEG_INPUT[platform];
      return from === undefined
        ? null
        : ['-v', 'error', '-nostdin', ...from, '-f', 's16le', '-ac', '1', '-ar', String(RECORDER_RATE), '-'];
    },
  },
];

export const RECORDER_NAMES: readonly string[] = RECORDERS.map(({ name }) => name);

const FFMPEG_INPUT: Readonly<Record<string, readonly string[]>> = {
  linux: ['-f', 'pulse', '-i', 'default'],
  darwin: ['-f', 'avfoundation', '-i', ':default'],
};

/**
 * Starts the first recorder that is found along PATH.
 * @throws InputError where there is none
 */
export async function startRecorder(context: Pick<Context, 'env' | 'fs'>): Promise<Recorder> {
  const found = await firstRecorder(context);
  if (found !== null) return start(found.name, found.path, found.args, context.env);
  throw new InputError(
    `no recorder was found on this system (${RECORDER_NAMES.join(', ')}): install one, or send sound to cantilena listen - from another program.`,
  );
}

/** Path of the recorder that would be started; null where there is none. */
export async function installedRecorder(context: Pick<Context, 'env' | 'fs'>): Promise<string | null> {
  return (await firstRecorder(context))?.path ?? null;
}

async function firstRecorder({ env, fs }: Pick<Context, 'env' | 'fs'>) {
  for (const { name, args } of RECORDERS) {
    const path = await findProgram(name, env.PATH ?? '', fs);
    const own = args(process.platform);
    if (path !== null && own !== null) return { name, path, args: own };
  }
  return null;
}

async function findProgram(name: string, path: string, fs: Context['fs']): Promise<string | null> {
  for (const folder of path.split(delimiter).filter((part) => part !== '')) {
    const file = join(folder, name);
    const runs = await fs.promises.access(file, constants.X_OK).then(
      () => true,
      () => false,
    );
    if (runs) return file;
  }
  return null;
}

function start(name: string, path: string, args: readonly string[], env: Context['env']): Recorder {
  const child = spawn(path, args, { env: { ...env }, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  let stopped = false;
  child.stderr.on('data', (part: Buffer) => {
    said = (said + part.toString('utf8')).slice(-2000);
  });
  const ended = new Promise<string | null>((resolve) => {
    child.on('error', (error) => resolve(error.message));
    child.on('close', (status) => {
      const last = said.trim().split('\n').at(-1) ?? '';
      resolve(stopped || status === 0 ? null : last || `it ended with status ${status}`);
    });
  });
  return {
    name,
    sound: child.stdout,
    stop() {
      stopped = true;
      child.kill();
    },
    complaint: () => ended,
  };
}
