/** How strongly a line may begin at each note: long notes, breaths, and the return of what was sung before. */

/** A note as far as lines are concerned; times in seconds. */
export interface LineNote {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
}

/** What the evidence weighs, in units of log odds; set by hand on traditional tunes and pop melodies with marked phrases. */
const WEIGHTS = {
  /** Per doubling of the onset interval against the median one. */
  interval: 1.5,
  /** A whole breath. */
  breath: 2,
  /** A pattern of eight notes or more that starts here and elsewhere. */
  repeat: 2,
  /** What a note must show before it is likelier to begin a line than not. */
  doubt: -2.5,
} as const;

/** The interval's evidence is kept within this many doublings: a pause in the accompaniment is no stronger than a long note. */
const INTERVAL_DOUBLINGS = { least: -2, most: 2.5 } as const;

/** Silence in seconds that is a whole breath; shorter ones count in proportion. */
const BREATH_SECONDS = 0.6;

/** Silences up to this length in seconds belong to consonants and detached singing, and are no evidence. */
const ARTICULATION_SECONDS = 0.12;

/** Onset intervals under this many seconds, in a row and without a silence, are a run that no breath divides. */
const RUN_SECONDS = 0.35;

/**
 * Log odds of a beginning inside a run: low enough to lose against any other place, finite so that a run
 * longer than the longest line can still be divided.
 */
const WITHIN_RUN = -50;

/** A pattern of fewer notes returns by chance. */
const LEAST_REPEAT = 3;

/** Notes of a repeat beyond which it is no stronger. */
const FULL_REPEAT = 8;

/** How many notes back a pattern is looked for: a song's worth, so that time grows with length only. */
const FARTHEST_REPEAT = 1000;

/** Onset intervals count as equal within this many doublings: singing is not exact, but a half note is not a quarter. */
const SAME_INTERVAL_DOUBLINGS = 0.45;

/** Onset intervals shorter than this many seconds are taken as this long, so that logarithms stay finite. */
const LEAST_INTERVAL_SECONDS = 0.02;

/**
 * Log odds that a line begins at each note, from note 1 on (note 0 begins one in any case, and reads 0):
 * the onset interval and the silence before it (the gap of Temperley, The Cognition of Basic Musical
 * Structures, 2001, ch. 3, with performed silences told apart from written ones), and the return of an
 * earlier pattern of pitches and durations (the parallelism that Grouper leaves to its metre).
 * Inside a run of fast notes a beginning is all but ruled out. Time grows with
 * the number of notes, up to a thousand steps a note.
 */
export function boundaryScores(notes: readonly LineNote[]): Float64Array {
  const intervals = onsetIntervals(notes);
  const typical = median(intervals);
  const repeats = repeatStrengths(notes, intervals);
  const scores = new Float64Array(notes.length);
  for (let i = 1; i < notes.length; i++) {
    const interval = intervals[i - 1]!;
    const silence = Math.max(notes[i]!.start - notes[i - 1]!.end - ARTICULATION_SECONDS, 0);
    const isRun =
      silence === 0 &&
      interval < RUN_SECONDS &&
      interval <= 1.1 * typical &&
      interval <= 1.1 * (intervals[i - 2] ?? Number.POSITIVE_INFINITY) &&
      interval <= 1.1 * (intervals[i] ?? Number.POSITIVE_INFINITY);
    const doublings = Math.log2(interval / typical);
    scores[i] = isRun
      ? WITHIN_RUN
      : WEIGHTS.interval * Math.min(Math.max(doublings, INTERVAL_DOUBLINGS.least), INTERVAL_DOUBLINGS.most) +
        WEIGHTS.breath * Math.min(silence / BREATH_SECONDS, 1) +
        WEIGHTS.repeat * repeats[i]! +
        WEIGHTS.doubt;
  }
  return scores;
}

/** Seconds from each onset to the next, one fewer than notes. */
function onsetIntervals(notes: readonly LineNote[]): number[] {
  return notes.slice(1).map((note, i) => Math.max(note.start - notes[i]!.start, LEAST_INTERVAL_SECONDS));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 1;
}

/**
 * For every note, 0..1: the length of the longest pattern (steps in semitones and onset intervals) that begins
 * there and elsewhere and cannot be carried further back; patterns do not overlap their own return.
 */
function repeatStrengths(notes: readonly LineNote[], intervals: readonly number[]): Float64Array {
  const steps = intervals.map((_, i) => notes[i + 1]!.midi - notes[i]!.midi);
  const lengths = intervals.map((interval) => Math.log2(interval));
  const isSame = (i: number, j: number): boolean =>
    steps[i] === steps[j] && Math.abs(lengths[i]! - lengths[j]!) < SAME_INTERVAL_DOUBLINGS;
  const strengths = new Float64Array(notes.length);
  // matched[d] is the number of steps that agree from note i and from note i − d on, for the i of the loop.
  const matched = new Uint32Array(Math.min(steps.length, FARTHEST_REPEAT) + 1);
  for (let i = steps.length - 1; i > 0; i--) {
    for (let d = 1; d < matched.length && d <= i; d++) {
      const j = i - d;
      matched[d] = isSame(i, j) ? matched[d]! + 1 : 0;
      const length = Math.min(matched[d]!, d);
      if (length < LEAST_REPEAT || (j > 0 && isSame(i - 1, j - 1))) continue;
      const strength = Math.min(length / FULL_REPEAT, 1);
      strengths[i] = Math.max(strengths[i]!, strength);
      strengths[j] = Math.max(strengths[j]!, strength);
    }
  }
  return strengths;
}
