/** The scales that are ranked. `minor` is the natural minor. */
export type Mode =
  | 'major'
  | 'minor'
  | 'harmonic minor'
  | 'melodic minor'
  | 'dorian'
  | 'phrygian'
  | 'lydian'
  | 'mixolydian'
  | 'locrian'
  | 'major pentatonic'
  | 'minor pentatonic'
  | 'blues';

/** A key or scale by name. `tonic` is ASCII without octave: `F`, `Bb`, `F#`. */
export interface Key {
  readonly tonic: string;
  readonly mode: Mode;
}

/** A candidate scale for a melody. Note names are ASCII without octave: `F`, `Bb`, `F#`. */
export interface ScaleCandidate {
  readonly tonic: string;
  readonly mode: Mode;
  /** Probability 0..1 among all candidates. */
  readonly score: number;
  /** The scale's notes from the tonic up. */
  readonly notes: readonly string[];
  /** Notes of the melody that the scale does not hold. */
  readonly outside: readonly string[];
  /** Notes that would decide between this scale and its nearest rival. */
  readonly deciders: readonly string[];
}
