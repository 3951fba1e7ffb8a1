/** Recordings whose beats are known: `NAME.flac` or `NAME.wav` beside `NAME.truth.json`. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

export interface BeatCase {
  readonly name: string;
  readonly path: string;
  /** What it is: `mix`, `sung`, `piano`. */
  readonly kind: string;
  /** Beats a minute. */
  readonly bpm: number;
  /** Seconds of the beats. */
  readonly beats: readonly number[];
}

const ENDING = '.truth.json';

/**
 * What a truth file says of the beats: `bpm` with `beats` (seconds), or with `firstBeat` (seconds) and the `off` of
 * its notes: then a beat every 60 / bpm seconds until the last note ends.
 *
 * @throws Error where neither is there
 */
export function readBeats(text: string, label: string): Pick<BeatCase, 'kind' | 'bpm' | 'beats'> {
  const { kind, bpm, beats, firstBeat, notes } = JSON.parse(text) as {
    kind?: string;
    bpm?: number;
    beats?: number[];
    firstBeat?: number;
    notes?: { off: number }[];
  };
  if (bpm === undefined || !(bpm > 0)) throw new Error(`${label}: there is no bpm over 0.`);
  const rest = { kind: kind ?? 'mix', bpm };
  if (beats !== undefined) return { ...rest, beats };
  if (firstBeat === undefined || notes === undefined || notes.length === 0) {
    throw new Error(`${label}: there are neither beats, nor a firstBeat and notes.`);
  }
  const end = Math.max(...notes.map((note) => note.off));
  const count = Math.max(0, Math.ceil(((end - firstBeat) * bpm) / 60 - 1e-6));
  return { ...rest, beats: Array.from({ length: count }, (_, i) => firstBeat + (60 * i) / bpm) };
}

/** The recordings of a folder with known beats, in order of name; none where there is no such folder. */
export function findBeatCases(folder: string): BeatCase[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith(ENDING))
    .sort()
    .flatMap((file) => {
      const name = file.slice(0, -ENDING.length);
      const path = ['.flac', '.wav'].map((type) => join(folder, name + type)).find((p) => existsSync(p));
      if (path === undefined) return [];
      return [{ name, path, ...readBeats(readFileSync(join(folder, file), 'utf8'), file) }];
    });
}
