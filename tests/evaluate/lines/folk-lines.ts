/** Folk songs in ABC notation whose rows of text are lines of the song. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { rhythmsOf, type WrittenRhythm } from '../../train/rhythm/abc.js';
import type { MadeTune } from './made-tunes.js';

/** Beats a bar of the time signatures that are read; a beat is an eighth in bars of six. */
const BEATS_PER_BAR: Readonly<Record<string, number>> = {
  '2/4': 2,
  '3/8': 3,
  '3/4': 3,
  '3/2': 3,
  '4/4': 4,
  '2/2': 4,
  '4/2': 4,
  '6/8': 6,
  '6/4': 6,
};

/** Tunes of fewer notes or lines say little. */
const FEWEST = { notes: 16, lines: 3 } as const;
/** Mean seconds from note to note, and what a note is shorter than the time to the next. */
const SECONDS = { interval: 0.55, between: 0.03 } as const;
/** Files of the Essen collection that hold Chinese songs, whose rows are long. */
const LEFT_OUT = /^han/;

/** Every tune of the folder's files that can be read, performed evenly. */
export function folkTunes(folder: string): Omit<MadeTune, 'name'>[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.abc') && !LEFT_OUT.test(file))
    .sort()
    .flatMap((file) => rhythmsOf(readFileSync(join(folder, file), 'latin1')))
    .flatMap((tune) => {
      const beatsPerBar = BEATS_PER_BAR[`${tune.numerator}/${tune.denominator}`];
      const isLong = tune.onsets.length >= FEWEST.notes && tune.rows.length >= FEWEST.lines;
      return beatsPerBar === undefined || !isLong ? [] : [written(tune, beatsPerBar)];
    });
}

function written({ onsets, end, midi, rows, numerator, denominator }: WrittenRhythm, beatsPerBar: number) {
  const beat = (16 * numerator) / denominator / beatsPerBar;
  const beats = [...onsets, end].map((onset) => onset / beat);
  const pace = (SECONDS.interval * (onsets.length - 1)) / (beats[onsets.length - 1]! - beats[0]!);
  return {
    notes: midi.map((pitch, i) => ({
      start: (beats[i]! - beats[0]!) * pace,
      end: (beats[i + 1]! - beats[0]!) * pace - SECONDS.between,
      midi: pitch,
    })),
    written: {
      places: onsets.map((_, i) => {
        const bar = Math.floor(beats[i]! / beatsPerBar + 1e-9);
        return { bar: bar + 1, beat: beats[i]! - bar * beatsPerBar + 1, beats: beats[i + 1]! - beats[i]! };
      }),
      beatsPerBar,
    },
    lineStarts: rows,
  };
}
