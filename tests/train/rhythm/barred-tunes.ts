/** The tunes in which bar lines are counted: pop melodies and folk songs. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { rhythmsOf } from './abc.js';
import type { BarredTune } from './bar-line-table.js';

/** Sixteenths in a bar of each metre that is counted. */
export const BARS: Readonly<Record<string, number>> = { '2/4': 8, '3/4': 12, '4/4': 16, '6/8': 12 };

/** The metre in which a time signature is counted, and how much longer its notes are written there. */
const FOLK: Readonly<Record<string, readonly [metre: string, longer: number]>> = {
  '4/4': ['4/4', 1],
  '2/2': ['4/4', 1],
  '4/2': ['4/4', 0.5],
  '2/4': ['2/4', 1],
  '3/4': ['3/4', 1],
  '3/2': ['3/4', 0.5],
  '3/8': ['3/4', 2],
  '6/8': ['6/8', 1],
  '6/4': ['6/8', 0.5],
};
const FEWEST_NOTES = 12;

export const isEven = (_: unknown, i: number) => i % 2 === 0;

/** Every melody of a file of `{ notes: [MIDI or 0 for a rest, sixteenths][] }`, one a line, in bars of 16. */
export function popTunes(path: string): BarredTune[] {
  const songs = readFileSync(path, 'utf8').trim().split('\n');
  return songs.map((line) => {
    const onsets: number[] = [];
    const pitches: number[] = [];
    let at = 0;
    for (const [midi, length] of (JSON.parse(line) as { notes: [number, number][] }).notes) {
      if (midi > 0) {
        onsets.push(at);
        pitches.push(midi);
      }
      at += length;
    }
    return { onsets, midi: pitches };
  });
}

/** The tunes of a folder of ABC files by their metre. */
export function folkTunes(folder: string): Record<string, BarredTune[]> {
  const tunes: Record<string, BarredTune[]> = {};
  const files = readdirSync(folder).filter((name) => name.endsWith('.abc'));
  for (const file of files.sort()) {
    for (const tune of rhythmsOf(readFileSync(join(folder, file), 'latin1'))) {
      const kind = FOLK[`${tune.numerator}/${tune.denominator}`];
      if (kind === undefined) continue;
      const onsets = tune.onsets.map((onset) => onset * kind[1]);
      if (onsets.length < FEWEST_NOTES || !onsets.every((onset) => Number.isInteger(onset))) continue;
      tunes[kind[0]] ??= [];
      tunes[kind[0]]!.push({ onsets, midi: tune.midi });
    }
  }
  return tunes;
}
