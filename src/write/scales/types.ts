import type { KeyRegion } from '../../theory/regions.js';
import type { RankedScale } from '../../theory/types.js';

/** A note of a melody, and where to listen for it; null where that is not known. */
export interface PlacedNote {
  readonly midi: number;
  /** Line of the song, from 1. */
  readonly line: number | null;
  /** Bar, from 1, 0 for a pickup. */
  readonly bar: number | null;
  /** Seconds from the start of the recording. */
  readonly start: number | null;
}

/** What is told of the scales of some notes. */
export interface ScalesSheet {
  readonly notes: readonly PlacedNote[];
  /** Best first. */
  readonly scales: readonly RankedScale[];
  /** Where the key changes, the regions in order, each with its own ranking; empty where it does not. */
  readonly regions: readonly KeyRegion[];
}
