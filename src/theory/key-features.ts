/** What a melody tells about its key: twelve numbers a kind of evidence, by pitch class from C. */

/** One note of a melody, as far as scales are concerned. */
export interface ScaleEvidence {
  /** Integer MIDI number. */
  readonly midi: number;
  /** How long it sounds, in seconds or beats, not negative. */
  readonly weight: number;
  /** Whether it is the last note of a line. */
  readonly lineEnd: boolean;
  /** Probability 0..1 that the key is right. */
  readonly confidence: number;
  /** Seconds of silence before the next note, for a line's last note; left out where it is not known. */
  readonly silenceAfter?: number;
}

/** The kinds of evidence in the order of `KeyFeatures`, each with the factor that brings it to the size of the others. */
export const FEATURE_SCALES = {
  /** Square roots of the shares of the notes. */
  notes: 4,
  /** Square roots of the shares of the sounding time. */
  time: 2.5,
  /** Shares of the line ends. */
  ends: 3,
  /** Shares of the line ends, each counting by the silence after it. */
  silences: 2,
  /** 1 at the first note. */
  first: 0.5,
  /** 1 at the last note. */
  last: 1,
} as const;

export type FeatureKind = keyof typeof FEATURE_SCALES;

export const FEATURE_KINDS = Object.keys(FEATURE_SCALES) as FeatureKind[];

/** Twelve numbers a kind, by pitch class from C, already scaled; all 0 without notes. */
export type KeyFeatures = Readonly<Record<FeatureKind, Float64Array>>;

/** A silence in seconds that counts in full; also what is taken for the silence after the last note. */
const LONG_SILENCE_SECONDS = 4;

/** What a line end counts by where its silence is not known. */
const UNKNOWN_SILENCE_SECONDS = 1;

/**
 * How many notes make half of what a long melody can tell: features are multiplied by n/(n + this), so that the
 * prior leads while there are few. Chosen on excerpts of one to eight lines (tests/train/keys).
 */
const HALF_NOTES = 20;

/** Pitch class 0..11 of any integer MIDI number. */
export function pitchClassOf(midi: number): number {
  return ((midi % 12) + 12) % 12;
}

/** The same values as shares of their sum; unchanged where the sum is 0. */
function shares(values: Float64Array): Float64Array {
  const sum = values.reduce((a, b) => a + b, 0);
  return sum > 0 ? values.map((v) => v / sum) : values;
}

/**
 * The evidence of a melody. Every note counts by its confidence. Square roots keep a degree that is sung all the
 * time from drowning the one that is sung twice and tells two keys apart.
 */
export function keyFeatures(notes: readonly ScaleEvidence[]): KeyFeatures {
  const twelve = (): Float64Array => new Float64Array(12);
  const [count, time, ends, silences, first, last] = [
    twelve(),
    twelve(),
    twelve(),
    twelve(),
    twelve(),
    twelve(),
  ];
  let certain = 0;
  notes.forEach(({ midi, weight, lineEnd, confidence, silenceAfter }, i) => {
    const pc = pitchClassOf(midi);
    const isLast = i === notes.length - 1;
    certain += confidence;
    count[pc] += confidence;
    time[pc] += confidence * weight;
    if (i === 0) first[pc] = confidence;
    if (isLast) last[pc] = confidence;
    if (!lineEnd && !isLast) return;
    ends[pc] += confidence;
    const silence = silenceAfter ?? (isLast ? LONG_SILENCE_SECONDS : UNKNOWN_SILENCE_SECONDS);
    silences[pc] += confidence * Math.min(Math.max(silence, 0), LONG_SILENCE_SECONDS);
  });
  const trust = certain / (certain + HALF_NOTES);
  const scaled = (kind: FeatureKind, values: Float64Array) =>
    values.map((value) => value * trust * FEATURE_SCALES[kind]);
  return {
    notes: scaled('notes', shares(count).map(Math.sqrt)),
    time: scaled('time', shares(time).map(Math.sqrt)),
    ends: scaled('ends', shares(ends)),
    silences: scaled('silences', shares(silences)),
    first: scaled('first', first),
    last: scaled('last', last),
  };
}
