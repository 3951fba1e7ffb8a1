/** From keys to scales: which scale of a tonic holds the notes. */
import { pitchClassOf, type ScaleEvidence } from './key-features.js';
import type { Swap } from './key-model.js';
import { modeProfile } from './profiles.js';
import { modeSemitones } from './tonal-tables.js';
import type { Mode } from './types.js';

/** Major, or minor: what a tonic's third makes of it. */
export type Base = 'major' | 'minor';

/** A way in which a tonic is heard: as in major or minor, or with degrees of these exchanged. */
interface Frame {
  readonly swaps: readonly Swap[];
  /** Share of the melodies of the base. */
  readonly prior: number;
}

/**
 * Frames of the major and minor tonics; the shares are rounded estimates. Of the tunes of two collections of dances and
 * songs (Ryan 1883 and Aird 1782–1801, as music21's transcribers marked them) that are major or mixolydian, one in six
 * is mixolydian, and of those that are minor or dorian more than one in four is dorian; in pop songs both are rarer.
 */
export const FRAMES: Readonly<Record<Base, readonly Frame[]>> = {
  major: [
    { swaps: [], prior: 0.89 },
    // Mixolydian, lydian.
    { swaps: [[10, 11]], prior: 0.1 },
    { swaps: [[5, 6]], prior: 0.01 },
  ],
  minor: [
    { swaps: [], prior: 0.785 },
    // Dorian, phrygian, locrian.
    { swaps: [[8, 9]], prior: 0.2 },
    { swaps: [[1, 2]], prior: 0.01 },
    {
      swaps: [
        [1, 2],
        [6, 7],
      ],
      prior: 0.005,
    },
  ],
};

/**
 * How common each scale is among the melodies on a major or a minor tonic; rounded estimates. Of 6,213 European songs of
 * the Essen collection, 0.38 of those in minor keep to the natural and 0.26 to the harmonic scale (own count), and a
 * melody of five notes is more often said to be in a key than in its pentatonic. The dorian and the mixolydian have
 * about the shares that they have as frames.
 */
const PRIORS: Readonly<Record<Base, readonly (readonly [Mode, number])[]>> = {
  major: [
    ['major', 0.65],
    ['major pentatonic', 0.21],
    ['mixolydian', 0.115],
    ['lydian', 0.025],
  ],
  minor: [
    ['minor', 0.385],
    ['harmonic minor', 0.175],
    ['minor pentatonic', 0.105],
    ['dorian', 0.22],
    ['melodic minor', 0.045],
    ['blues', 0.035],
    ['phrygian', 0.03],
    ['locrian', 0.005],
  ],
};

/**
 * Weight of a note outside the scale, beside the profile's 0.75 for the tonic: one that sounds twice tells more than
 * what is usual.
 */
const OUTSIDE_WEIGHT = 0.015;

/** Weight of the raised seventh in the natural minor: of those Essen songs, one in five has both sevenths. */
const RAISED_SEVENTH_WEIGHT = 0.1;

/** Notes past which more of the same add nothing: a song repeats itself. */
const MOST_NOTES = 60;

/** What the notes say for each scale of a frame. */
export interface Tally {
  /** Shares of the notes and of the sounding time, in halves, by pitch class from C. */
  readonly shares: Float64Array;
  /** How many notes they count for. */
  readonly count: number;
}

/** The notes as counts, each by its confidence; half by number and half by sounding time, so that passing notes say less. */
export function tallyOf(notes: readonly ScaleEvidence[]): Tally {
  const count = new Float64Array(12);
  const time = new Float64Array(12);
  for (const { midi, weight, confidence } of notes) {
    count[pitchClassOf(midi)] += confidence;
    time[pitchClassOf(midi)] += confidence * weight;
  }
  let notesIn = 0;
  let timeIn = 0;
  for (let pc = 0; pc < 12; pc++) {
    notesIn += count[pc];
    timeIn += time[pc];
  }
  const shares = new Float64Array(12);
  for (let pc = 0; pc < 12 && notesIn > 0; pc++) {
    const share = count[pc] / notesIn;
    shares[pc] = timeIn === 0 ? share : share / 2 + time[pc] / timeIn / 2;
  }
  return { shares, count: (notesIn * MOST_NOTES) / (notesIn + MOST_NOTES) };
}

/** Logarithms of how often each degree is sung in a scale. */
const DEGREE_LOGS = new Map<Mode, Float64Array>();

function degreeLogs(mode: Mode): Float64Array {
  const known = DEGREE_LOGS.get(mode);
  if (known !== undefined) return known;
  const held = new Set(modeSemitones(mode));
  const weights = Float64Array.from(modeProfile(mode), (weight, degree) =>
    held.has(degree) ? weight : OUTSIDE_WEIGHT,
  );
  if (mode === 'minor') weights[11] = RAISED_SEVENTH_WEIGHT;
  const logs = weights.map(Math.log);
  DEGREE_LOGS.set(mode, logs);
  return logs;
}

/**
 * Which scale holds the notes, given a tonic and whether it is major or minor: for each scale twelve shares by tonic,
 * which add up to 1 over the scales. A scale's weight is its prior times, for every note, how often its degree is sung in
 * that scale (the profile of Temperley 2007, made from its major or minor row). The weights are not brought to a common
 * sum: a pentatonic melody lies in the whole scale as well, and is not likelier to be in the narrow one the longer it is.
 */
export function kindShares(base: Base, { shares, count }: Tally): { mode: Mode; byTonic: Float64Array }[] {
  const kinds: { mode: Mode; byTonic: Float64Array }[] = [];
  for (const [mode, prior] of PRIORS[base]) {
    const logs = degreeLogs(mode);
    const byTonic = new Float64Array(12);
    for (let tonic = 0; tonic < 12; tonic++) {
      let fit = 0;
      for (let degree = 0; degree < 12; degree++) fit += logs[degree] * shares[(tonic + degree) % 12];
      byTonic[tonic] = Math.log(prior) + count * fit;
    }
    kinds.push({ mode, byTonic });
  }
  for (let tonic = 0; tonic < 12; tonic++) toShares(kinds, tonic);
  return kinds;
}

/** Logarithms of a tonic → shares that add up to 1 over the scales. */
function toShares(kinds: readonly { readonly byTonic: Float64Array }[], tonic: number): void {
  let top = Number.NEGATIVE_INFINITY;
  for (const { byTonic } of kinds) top = Math.max(top, byTonic[tonic]);
  let sum = 0;
  for (const { byTonic } of kinds) {
    byTonic[tonic] = Math.exp(byTonic[tonic] - top);
    sum += byTonic[tonic];
  }
  for (const { byTonic } of kinds) byTonic[tonic] /= sum;
}
