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
  /** The whole tune, its end, and its beginning up to the end of a line, misheard. */
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
      const takes = [notes, end].map((take) => evidenceOf(misheard(take, random)).evidence);
      return { tonic, mode, takes: [...takes, beginning(takes[0]!, random)] };
    });
}

/** Share of a tune that its beginning has, least and most: what a listener may cut out does not end on the tonic. */
const LEAST_SHARE = 0.25;
const MOST_SHARE = 0.8;

/** The notes up to the end of a line, about a share of the tune chosen by chance. */
function beginning(notes: readonly ScaleEvidence[], random: () => number): readonly ScaleEvidence[] {
  const wanted = Math.floor(notes.length * (LEAST_SHARE + (MOST_SHARE - LEAST_SHARE) * random()));
  const from = notes.findIndex(({ lineEnd }, i) => i + 1 >= wanted && lineEnd);
  return from < 0 ? notes : notes.slice(0, from + 1);
}
