/** Right-hand finger: 1 thumb … 5 little finger. */
export type Finger = 1 | 2 | 3 | 4 | 5;

/** Hand size, which changes how far two fingers reach. */
export type HandSize = 'small' | 'medium' | 'large';

/** A key to be played; times in seconds. */
export interface FingerNote {
  readonly midi: number;
  readonly start: number;
  readonly end: number;
}

/** A key to be struck. */
export interface Stroke {
  readonly midi: number;
  /** Whether a rest lies before it in which the hand can move on its own. */
  readonly afterRest: boolean;
}

/** Where the hand lies from a note on, until the next position. */
export interface HandPosition {
  /** Number of its first note, from 1. */
  readonly first: number;
  /** The key under the thumb, whether it plays or not, as a MIDI number. */
  readonly thumb: number;
}
