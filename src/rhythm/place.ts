/** Where notes stand in the written music when tempo and metre are given. */
import type { Place } from './types.js';

/** Written positions and lengths are multiples of a quarter of a beat. */
const STEPS_PER_BEAT = 4;

export interface SteadyBeat {
  /** Beats a minute, positive. */
  readonly bpm: number;
  /** Beats a bar, a positive integer. */
  readonly beatsPerBar: number;
  /** Time of a first beat of bar 1 in seconds. */
  readonly firstDownbeatSeconds: number;
}

const NOWHERE: Place = { bar: null, beat: null, beats: null };

function toSteps(seconds: number, bpm: number): number {
  return Math.round((seconds * bpm * STEPS_PER_BEAT) / 60);
}

/**
 * Bar, beat and written length of each note for a steady beat: the nearest quarter of a beat, at least a
 * quarter of a beat long. Bar 1 starts at the first downbeat, a pickup stands in bar 0, notes earlier still in
 * bars −1, −2, …; the beat counts from 1 within its bar. Without a beat every field is null.
 */
export function placeNotes(
  notes: readonly { readonly start: number; readonly end: number }[],
  beat: SteadyBeat | null,
): Place[] {
  if (beat === null) return notes.map(() => NOWHERE);
  const stepsPerBar = beat.beatsPerBar * STEPS_PER_BEAT;
  return notes.map((note) => {
    const step = toSteps(note.start - beat.firstDownbeatSeconds, beat.bpm);
    const barIndex = Math.floor(step / stepsPerBar);
    return {
      bar: barIndex + 1,
      beat: (step - barIndex * stepsPerBar) / STEPS_PER_BEAT + 1,
      beats: Math.max(toSteps(note.end - note.start, beat.bpm), 1) / STEPS_PER_BEAT,
    };
  });
}
