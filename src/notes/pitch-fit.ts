/** Steps of the pitches tried for a note, a third of a semitone (as in Mauch et al. 2015, section 3). */
const STEPS_PER_SEMITONE = 3;
/** Spread of a steady sung note around its pitch, semitones (vibrato included). */
const SPREAD_SEMITONES = 0.4;
/** No frame costs more than a frame this far away, so that a slip costs little. */
const FURTHEST_SEMITONES = 1.6;
/** Cost of a frame that far away. */
const MOST = cost(FURTHEST_SEMITONES);
/** Highest pitch in the table, a MIDI number; pitches outside 0..HIGHEST count as far from everything. */
const HIGHEST = 128;

/**
 * How badly the frames of a note fit one pitch, kept up to date as frames are added: the least, over all
 * pitches tried, of the sum of each frame's bounded squared distance, weighted by how likely it is voiced.
 *
 * Kept as what each pitch saves against the worst case, so that a frame touches only the pitches near it.
 */
export class PitchFit {
  readonly #saved = new Float64Array(HIGHEST * STEPS_PER_SEMITONE + 1);
  #worst = 0;
  #mostSaved = 0;
  #lowestTouched = this.#saved.length;
  #highestTouched = -1;

  /** Forgets all frames. */
  clear(): void {
    if (this.#highestTouched >= 0) this.#saved.fill(0, this.#lowestTouched, this.#highestTouched + 1);
    this.#worst = 0;
    this.#mostSaved = 0;
    this.#lowestTouched = this.#saved.length;
    this.#highestTouched = -1;
  }

  /**
   * Adds a frame.
   *
   * @param pitch fractional MIDI number; a frame without one (NaN) counts nothing
   * @param voiced probability 0..1 that the frame is voiced
   */
  add(pitch: number, voiced: number): void {
    if (!(pitch >= 0 && pitch <= HIGHEST)) return;
    this.#worst += voiced * MOST;
    const low = Math.max(0, Math.ceil((pitch - FURTHEST_SEMITONES) * STEPS_PER_SEMITONE));
    const high = Math.min(
      this.#saved.length - 1,
      Math.floor((pitch + FURTHEST_SEMITONES) * STEPS_PER_SEMITONE),
    );
    for (let q = low; q <= high; q++) {
      this.#saved[q] += voiced * (MOST - cost(pitch - q / STEPS_PER_SEMITONE));
      if (this.#saved[q] > this.#mostSaved) this.#mostSaved = this.#saved[q];
    }
    this.#lowestTouched = Math.min(this.#lowestTouched, low);
    this.#highestTouched = Math.max(this.#highestTouched, high);
  }

  /** Cost of the frames added, against the pitch that fits them best; 0 for none. */
  get cost(): number {
    return this.#worst - this.#mostSaved;
  }
}

function cost(semitones: number): number {
  return (semitones / SPREAD_SEMITONES) ** 2 / 2;
}
