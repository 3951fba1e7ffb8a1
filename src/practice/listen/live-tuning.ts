/** Where a voice's own keys lie beside the piano's, learnt while it sings. */

export interface LiveTuning {
  /** Cents above A4 = 440 Hz, −50..50, as far as it is known. */
  cents(): number;
  /** A key was held: its pitch (fractional MIDI number) and for how long. */
  add(pitch: number, heldSeconds: number): void;
}

/**
 * Seconds of singing in tune that are taken for granted beforehand: the first notes move the tuning little, and a piano,
 * which is in tune, is left alone (our choice).
 */
const PRIOR_SECONDS = 1.5;
/** What is older than this counts less than half (our choice): voices sink. */
const HALF_LIFE_SECONDS = 20;

/**
 * The mean of the distances from the keys, taken round the circle of one semitone (Mardia & Jupp, "Directional
 * Statistics", 2000, section 2.2), because 49 cents sharp and 49 cents flat are neighbours.
 */
export function createLiveTuning(): LiveTuning {
  let x = PRIOR_SECONDS;
  let y = 0;
  return {
    cents: () => (100 * Math.atan2(y, x)) / (2 * Math.PI),
    add(pitch, heldSeconds) {
      const left = 0.5 ** (heldSeconds / HALF_LIFE_SECONDS);
      x = x * left + heldSeconds * Math.cos(2 * Math.PI * pitch);
      y = y * left + heldSeconds * Math.sin(2 * Math.PI * pitch);
    },
  };
}
