/** What the program uses of the world outside; tests put their own in its place. */
import type { ReadStream, Stats } from 'node:fs';
import type { Readable, Writable } from 'node:stream';

/** A place to write to; the last two are set where it is a terminal. */
export type Output = Writable & { readonly isTTY?: boolean; readonly columns?: number };

export interface Streams {
  readonly stdin: Readable & { readonly isTTY?: boolean };
  readonly stdout: Output;
  readonly stderr: Output;
}

/** The part of `node:fs` that is used. */
export interface FileSystem {
  createReadStream(path: string, options: { highWaterMark: number }): ReadStream;
  readonly promises: {
    stat(path: string): Promise<Stats>;
    access(path: string, mode: number): Promise<void>;
    realpath(path: string): Promise<string>;
    mkdir(path: string, options: { recursive: true }): Promise<unknown>;
    writeFile(path: string, content: string | Uint8Array, options?: { flag: string }): Promise<void>;
    rename(from: string, to: string): Promise<void>;
    rm(path: string, options: { force: true }): Promise<void>;
  };
}

export interface Context {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly streams: Streams;
  readonly fs: FileSystem;
  /**
   * Calls `stop` when a person interrupts the program (Ctrl-C), in place of ending it; gives back how to undo that.
   * Absent where nobody can.
   */
  readonly onInterrupt?: (stop: () => void) => () => void;
}
