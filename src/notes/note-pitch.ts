import type { PitchTrack } from '../pitch/types.js';
import type { Segment } from './segment.js';

/** Time at the start of a note in which the voice may still be on its way to the pitch, seconds … */
const APPROACH_SECONDS = 0.04;
/** … but no more than this share of the note. */
const APPROACH_SHARE = 0.25;
/** Frames less likely voiced than this do not count … */
const VOICED = 0.5;
/** … unless the note has no better ones; those without any period never count. */
const HARDLY_VOICED = 0.01;
/** A stretch less voiced than this on average is noise. */
const VOICED_ENOUGH = 0.25;

/** The pitch of one note and how firmly it stands. */
export interface NotePitch {
  /** Fractional MIDI number. */
  readonly pitch: number;
  /** Half the range of the middle half of its frames, semitones. */
  readonly spreadSemitones: number;
}

/**
 * Pitch of a note: the median of its voiced frames after the approach, which neither vibrato nor a scoop or a
 * fall at the ends moves much. Null where hardly any of it is voiced.
 */
export function notePitch(track: PitchTrack, { first, end }: Segment): NotePitch | null {
  const length = end - first;
  const approach = Math.min(
    Math.round(APPROACH_SECONDS / track.grid.hopSeconds),
    Math.floor(length * APPROACH_SHARE),
  );
  let pitches = pitchesOf(track, first + approach, end, VOICED);
  if (pitches.length === 0) pitches = pitchesOf(track, first, end, HARDLY_VOICED);
  let voiced = 0;
  for (let i = first; i < end; i++) voiced += track.voiced[i];
  if (pitches.length === 0 || voiced / length < VOICED_ENOUGH) return null;
  pitches.sort();
  const quantile = (q: number) => pitches[Math.min(pitches.length - 1, Math.floor(q * pitches.length))];
  return {
    pitch: quantile(0.5),
    spreadSemitones: (quantile(0.75) - quantile(0.25)) / 2,
  };
}

function pitchesOf(track: PitchTrack, first: number, end: number, voiced: number): Float32Array {
  const kept: number[] = [];
  for (let i = first; i < end; i++) {
    if (track.voiced[i] >= voiced && Number.isFinite(track.pitch[i])) kept.push(track.pitch[i]);
  }
  return Float32Array.from(kept);
}
