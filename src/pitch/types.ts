import type { FrameGrid } from '../dsp/frame-grid.js';

/** What a recording is heard as: `solo`, one voice or instrument alone, or `mix`, a voice with a band. */
export type Source = 'solo' | 'mix';

/** What a recording was heard as. */
export interface HeardAs {
  readonly source: Source;
  /** Why, for people, without a capital and a full stop; null where the source was asked for. */
  readonly why: string | null;
}

/** What a tracker hears, frame by frame. All arrays have `grid.frameCount` entries. */
export interface PitchTrack {
  readonly grid: FrameGrid;
  /** Most likely pitch as a fractional MIDI number, also where unvoiced (the best guess there). */
  readonly pitch: Float32Array;
  /** Probability 0..1 that a pitched voice sounds. */
  readonly voiced: Float32Array;
  /** Probability 0..1 that a note lasts here, voiced consonants and short breaks of the voice included. */
  readonly sounding: Float32Array;
  /** Strength 0..1 of the evidence that a note starts at this frame. */
  readonly onset: Float32Array;
  /** Level of the frame in decibels relative to full scale. */
  readonly levelDb: Float32Array;
}
