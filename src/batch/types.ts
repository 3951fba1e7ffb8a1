/** A recording of a batch. */
export interface Song {
  /** Where it lies. */
  readonly path: string;
  /** Its place under the folders that were named, with `/` between: `evening/song.mp3`. No two songs have the same. */
  readonly name: string;
}

/** What came of a song that was heard. */
export interface SongDone {
  readonly name: string;
  readonly status: 'done';
  /** Length in seconds. */
  readonly seconds: number;
  readonly notes: number;
  readonly lines: number;
  /** The likeliest scale: `F major`. */
  readonly key: string;
  /** How hard the line is, 1..10. */
  readonly level: number;
  /** What was amiss with the recording, a sentence each. */
  readonly warnings: readonly string[];
  /** The files, named as they lie in the folder `name` of the batch. */
  readonly files: readonly string[];
}

export interface SongFailed {
  readonly name: string;
  readonly status: 'failed';
  /** A sentence. */
  readonly message: string;
}

/** What a worker gives back. */
export type JobOutcome =
  | { readonly kind: 'heard' | 'unchanged'; readonly song: SongDone }
  | { readonly kind: 'failed'; readonly song: SongFailed };

/** One of several machines' share: `index` of `count`, from 1. */
export interface Part {
  readonly index: number;
  readonly count: number;
}
