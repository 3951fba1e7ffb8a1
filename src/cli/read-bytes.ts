/** The input's bytes, from a file, a pipe or standard input. */
import type { Readable } from 'node:stream';
import { InputError } from '../errors.js';
import type { InputBytes } from '../pipeline/read-input.js';
import { systemCode, systemReason } from '../system-reason.js';
import type { Context } from './context.js';
import { shellWord } from './shell-word.js';

/** Largest input in bytes, the most that one array of Node 20 takes from a file: three hours of CD sound. */
const MOST_BYTES = 2 ** 31 - 1;

/** Bytes that are read from a file at a time. */
const READ_BYTES = 2 ** 20;

/** Which file on which disk: two names of one file have the same. */
export interface FileIdentity {
  readonly dev: number;
  readonly ino: number;
}

/** What an input is called in sentences. */
export function inputLabel(input: string): string {
  return input === '-' ? 'standard input' : input;
}

/**
 * Looks whether the input can be opened at all.
 * @returns its identity, null for standard input
 * @throws InputError when there is no such file, or it is a folder
 */
export async function findInput(
  input: string,
  similarCommand: string | null,
  { fs }: Pick<Context, 'fs'>,
): Promise<FileIdentity | null> {
  if (input === '-') return null;
  try {
    const stats = await fs.promises.stat(input);
    if (stats.isDirectory()) {
      throw new InputError(
        `${input} is a folder: name one recording in it, or hear all of them with cantilena batch ${shellWord(input)} --out heard.`,
      );
    }
    if (stats.isFile() && stats.size > MOST_BYTES) throw tooLarge(input);
    return stats;
  } catch (error) {
    if (error instanceof InputError) throw error;
    if (systemCode(error) !== 'ENOENT')
      throw new InputError(`${input} cannot be read: ${systemReason(error)}.`);
    const meant = similarCommand === null ? '.' : `, or did you mean the command ${similarCommand}?`;
    throw new InputError(`there is no file ${input}: check its name and folder${meant}`);
  }
}

/** @throws InputError when reading fails on the way, or the input is larger than 2 GiB */
export async function readBytes(
  input: string,
  { streams, fs }: Pick<Context, 'streams' | 'fs'>,
): Promise<InputBytes> {
  const label = inputLabel(input);
  try {
    if (input === '-') return { bytes: await collected(streams.stdin, 0, label), label };
    const { size } = await fs.promises.stat(input);
    const source = fs.createReadStream(input, { highWaterMark: READ_BYTES });
    return { bytes: await collected(source, Math.min(size, MOST_BYTES), label), label };
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(`${label} cannot be read: ${systemReason(error)}.`);
  }
}

/**
 * All that comes, in one array that is made as large as what is expected: what comes is copied at once, so that a large
 * file is not held twice.
 */
async function collected(source: Readable, expectedBytes: number, label: string): Promise<Uint8Array> {
  let bytes = new Uint8Array(expectedBytes);
  let length = 0;
  for await (const part of source as AsyncIterable<Uint8Array>) {
    const needed = length + part.length;
    if (needed > MOST_BYTES) throw tooLarge(label);
    if (needed > bytes.length) {
      const larger = new Uint8Array(Math.min(MOST_BYTES, Math.max(2 * length, needed, READ_BYTES)));
      larger.set(bytes.subarray(0, length));
      bytes = larger;
    }
    bytes.set(part, length);
    length = needed;
  }
  return bytes.subarray(0, length);
}

/** What `readBytes` gave, for one who needs no more of a recording than what is heard in it. */
export function onlyToHear(input: InputBytes): InputBytes {
  const buffer = input.bytes.buffer as ArrayBuffer;
  // Whoever was given them may still know the array: moved away, its memory is let go of all the same.
  return { ...input, release: () => structuredClone(buffer, { transfer: [buffer] }) };
}

function tooLarge(label: string): InputError {
  return new InputError(`${label} is larger than 2 GiB: cut it, or save it as MP3, FLAC or Opus.`);
}
