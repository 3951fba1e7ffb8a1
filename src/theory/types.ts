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

/** Where a listener should listen: a note name and the numbers (from 1) of the melody's notes of that name. */
export interface NamedNotes {
  readonly name: string;
  /** Empty where the melody never sings it. */
  readonly numbers: readonly number[];
}

/** Notes of one name that a scale does not hold. */
export interface OutsideNotes extends NamedNotes {
  /** Those of the numbers whose note is so unsure that it may be a mishearing. */
  readonly doubtful: readonly number[];
  /** Names of the keys of the scale nearest to it, the lower first: two where both are as near. */
  readonly nextTo: readonly string[];
}

/** A ranked scale with what a listener needs to settle it. */
export interface RankedScale extends ScaleCandidate {
  /** Place from 1; scales that the notes cannot tell apart share one (1, 1, 3, …). */
  readonly place: number;
  /** The best-placed scale that the deciders decide against; null where there is none. */
  readonly rival: Key | null;
  /** For every decider, where the melody sings it. */
  readonly decidersAt: readonly NamedNotes[];
  /** For every name outside the scale, where the melody sings it. */
  readonly outsideAt: readonly OutsideNotes[];
}
