import type { PitchTrack } from '../pitch/types.js';

/** Steps of the pitches tried for a note, a third of a semitone (as in Mauch et al. 2015, section 3). */
const STEPS_PER_SEMITONE = 3;
/** Spread of a steady sung note around its pitch, semitones (vibrato included). */
const SPREAD_SEMITONES = 0.4;
/** No frame costs more than a frame this far away, so that a slip costs little. */
const FURTHEST_SEMITONES = 1.6;

/**
 * How badly the frames of a stretch fit one pitch. A table of running sums answers for any stretch: row q,
 * column i holds the cost of frames 0…i−1 against pitch q.
 */
export class PitchFit {
  readonly #rows: Float64Array[] = [];

  constructor(track: PitchTrack) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    const n = track.grid.frameCount;
    for (let i = 0; i < n; i++) {
      if (track.voiced[i] < 0.2 || !Number.isFinite(track.pitch[i])) continue;
      low = Math.min(low, track.pitch[i]);
      high = Math.max(high, track.pitch[i]);
    }
    if (!Number.isFinite(low)) return;
    const steps = Math.ceil((high - low) * STEPS_PER_SEMITONE) + 1;
    const most = cost(FURTHEST_SEMITONES);
    for (let q = 0; q < steps; q++) {
      const pitch = low + q / STEPS_PER_SEMITONE;
      const row = new Float64Array(n + 1);
      for (let i = 0; i < n; i++) {
        const away = track.pitch[i] - pitch;
        row[i + 1] = row[i] + (Number.isFinite(away) ? track.voiced[i] * Math.min(most, cost(away)) : 0);
      }
      this.#rows.push(row);
    }
  }

  /** Cost of frames `first` … `end − 1` against the pitch that fits them best; 0 for an empty stretch. */
  cost(first: number, end: number): number {
    if (end <= first || this.#rows.length === 0) return 0;
    let best = Number.POSITIVE_INFINITY;
    for (const row of this.#rows) best = Math.min(best, row[end] - row[first]);
    return best;
  }
}

function cost(semitones: number): number {
  return (semitones / SPREAD_SEMITONES) ** 2 / 2;
}
