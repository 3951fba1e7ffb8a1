import type { Melody } from '../../melody.js';

/** Ticks in a beat: a beat is halved twice or cut in three. */
export const BEAT_TICKS = 12;

/** A metre as notation sees it; ticks count from the start of a bar. */
export interface WrittenMeter {
  readonly beatsPerBar: number;
  /** What note a beat is: 4, a quarter, or 8, an eighth. */
  readonly beatUnit: 4 | 8;
  readonly barTicks: number;
  /** Ticks in a quarter note. */
  readonly quarterTicks: number;
  /** Ticks of what is beamed together and felt as one: a beat, or three eighths in 6/8, 9/8, 12/8 and 3/8. */
  readonly pulseTicks: number;
  /** Where groups of pulses start, and the end of the bar: 0, 24, 48 in 4/4, the middle of which stays visible. */
  readonly groups: readonly number[];
}

/** The metre of a melody, null where notes have no place in bars. */
export function writtenMeter({ meter, notes }: Pick<Melody, 'meter' | 'notes'>): WrittenMeter | null {
  const { beatsPerBar } = meter;
  if (beatsPerBar === null || !Number.isInteger(beatsPerBar) || beatsPerBar < 1) return null;
  if (notes.some((note) => note.bar === null || note.beat === null || note.beats === null)) return null;
  const beatUnit = meter.beatUnit ?? 4;
  const groups = beatUnit === 8 ? eighthGroups(beatsPerBar) : quarterGroups(beatsPerBar);
  return {
    beatsPerBar,
    beatUnit,
    barTicks: beatsPerBar * BEAT_TICKS,
    quarterTicks: beatUnit === 8 ? 2 * BEAT_TICKS : BEAT_TICKS,
    pulseTicks: (beatUnit === 8 ? 3 : 1) * BEAT_TICKS,
    groups: [...groups, beatsPerBar].map((beat) => beat * BEAT_TICKS),
  };
}

/** Starts of groups of quarters: 2+2 of four, 3+2 of five, 3+3 of six, 4+3 of seven, fours of more; up to three stay one. */
function quarterGroups(beats: number): number[] {
  if (beats <= 3) return [0];
  const size = beats === 4 ? 2 : beats <= 6 ? 3 : 4;
  return steps(beats, size);
}

/** Starts of groups of eighths: threes, the last group smaller where they do not come out. */
function eighthGroups(beats: number): number[] {
  return steps(beats, 3);
}

function steps(end: number, size: number): number[] {
  return Array.from({ length: Math.ceil(end / size) }, (_, index) => index * size);
}
