/** The input's bytes, from a file, a pipe or standard input. */
import type { Readable } from 'node:stream';
import { InputError } from '../errors.js';
import type { InputBytes } from '../pipeline/read-input.js';
import { systemCode, systemReason } from '../system-reason.js';
import type { Context } from './context.js';
import { shellWord } from './shell-word.js';

/** Largest input in bytes, the most that one array of Node 20 takes from a file: three hours of CD sound. */
const MOST_BYTES = 2 ** 31 - 1;

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
  const source: Readable = input === '-' ? streams.stdin : fs.createReadStream(input);
  const parts: Uint8Array[] = [];
  let length = 0;
  try {
    for await (const part of source as AsyncIterable<Uint8Array>) {
      parts.push(part);
      length += part.length;
      if (length > MOST_BYTES) throw tooLarge(label);
    }
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(`${label} cannot be read: ${systemReason(error)}.`);
  }
  return { bytes: parts.length === 1 ? parts[0]! : Buffer.concat(parts, length), label };
}

function tooLarge(label: string): InputError {
  return new InputError(`${label} is larger than 2 GiB: cut it, or save it as MP3, FLAC or Opus.`);
}
