/** Folk tunes with their modes as evidence, misheard: what the pop melodies, all major or minor, cannot tell. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { ScaleEvidence } from '../../../src/theory/key-features.js';
import { type FolkMode, tunesOf } from './abc-keys.js';
import { chance } from './chance.js';
import { misheard } from './mishear.js';
import { evidenceOf } from './songs.js';

export interface FolkSong {
  /** Pitch class 0..11. */
  readonly tonic: number;
  readonly mode: FolkMode;
  /** The whole tune and its end, misheard. */
  readonly takes: readonly (readonly ScaleEvidence[])[];
}

/** Notes of the end that is taken: this many, and up to as many more. */
const FEWEST = 30;
const MORE = 20;

/** The tunes of every ABC file in a folder, by name. */
export function readFolkSongs(folder: string): FolkSong[] {
  const random = chance(21);
  const paths = readdirSync(folder).map((name) => join(folder, name));
  return paths
    .filter((path) => path.endsWith('.abc') && statSync(path).isFile())
    .sort()
    .flatMap((path) => tunesOf(readFileSync(path, 'latin1')))
    .map(({ tonic, mode, notes }) => {
      const end = notes.slice(-FEWEST - Math.floor(MORE * random()));
      return { tonic, mode, takes: [notes, end].map((take) => evidenceOf(misheard(take, random)).evidence) };
    });
}
