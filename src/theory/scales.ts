/** Which scales hold a melody, ranked. */
import { usualTonic } from './key-signature.js';
import { pitchClassName } from './pitch-names.js';
import { modeProfile } from './profiles.js';
import { MODES, modeSemitones, nameParts, scaleNotes } from './tonal-tables.js';
import type { Key, Mode, ScaleCandidate } from './types.js';

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
}

/** What the ranking weighs, in units of log probability. */
const WEIGHTS = {
  /** Per unit of correlation between the melody's notes and the mode's profile. */
  correlation: 14,
  /** The last note is the tonic. */
  lastNote: 1.6,
  /** Share of line ends on the tonic, 0..1. */
  lineEnds: 1.5,
  /** Share of the sounding time outside the scale, 0..1. */
  outside: -8,
} as const;

/** How common melodies in each mode are, as a share of songs; settled by ear and habit, not measured. */
const PRIOR: Record<Mode, number> = {
  major: 0.6,
  minor: 0.27,
  'harmonic minor': 0.03,
  'melodic minor': 0.01,
  dorian: 0.02,
  mixolydian: 0.02,
  'major pentatonic': 0.02,
  'minor pentatonic': 0.01,
  blues: 0.005,
  lydian: 0.005,
  phrygian: 0.005,
  locrian: 0.0005,
};

/** What the melody offers, twelve numbers from C each. */
interface Histogram {
  /** Share of the (certain) sounding time. */
  readonly time: readonly number[];
  /** Share of line ends. */
  readonly ends: readonly number[];
  /** Pitch class of the last note, −1 without notes. */
  readonly last: number;
}

function pitchClassOf(midi: number): number {
  return ((midi % 12) + 12) % 12;
}

function shares(weights: number[]): number[] {
  const sum = weights.reduce((a, b) => a + b, 0);
  return sum > 0 ? weights.map((w) => w / sum) : weights;
}

function histogram(notes: readonly ScaleEvidence[]): Histogram {
  const time = new Array<number>(12).fill(0);
  const ends = new Array<number>(12).fill(0);
  for (const note of notes) {
    const pc = pitchClassOf(note.midi);
    time[pc]! += note.weight * note.confidence;
    if (note.lineEnd) ends[pc]! += note.confidence;
  }
  const last = notes.at(-1);
  return { time: shares(time), ends: shares(ends), last: last === undefined ? -1 : pitchClassOf(last.midi) };
}

function correlation(x: readonly number[], y: readonly number[]): number {
  const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  let [sxy, sxx, syy] = [0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    const [dx, dy] = [x[i]! - mx, y[i]! - my];
    sxy += dx * dy;
    sxx += dx * dx;
    syy += dy * dy;
  }
  return sxx > 0 && syy > 0 ? sxy / Math.sqrt(sxx * syy) : 0;
}

/** The twelve values seen from `tonic`. */
function fromTonic(values: readonly number[], tonic: number): number[] {
  return values.map((_, degree) => values[(tonic + degree) % 12]!);
}

/** Log probability, up to a constant, of a scale for the melody. */
function logScore(melody: Histogram, tonic: number, mode: Mode): number {
  const time = fromTonic(melody.time, tonic);
  const held = new Set(modeSemitones(mode));
  const outside = time.reduce((sum, share, degree) => sum + (held.has(degree) ? 0 : share), 0);
  return (
    Math.log(PRIOR[mode]) +
    WEIGHTS.correlation * correlation(time, modeProfile(mode)) +
    WEIGHTS.lastNote * (melody.last === tonic ? 1 : 0) +
    WEIGHTS.lineEnds * melody.ends[tonic]! +
    WEIGHTS.outside * outside
  );
}

interface Ranked {
  readonly key: Key;
  readonly notes: readonly string[];
  readonly pitchClasses: ReadonlySet<number>;
  readonly score: number;
}

function rank(notes: readonly ScaleEvidence[], key: Key | undefined): Ranked[] {
  const melody = histogram(notes);
  const keyTonic = key === undefined ? -1 : nameParts(key.tonic)!.pitchClass;
  const entries = MODES.flatMap((mode) =>
    Array.from({ length: 12 }, (_, tonic) => {
      const isGiven = mode === key?.mode && tonic === keyTonic;
      const name = isGiven ? key.tonic : usualTonic(tonic, mode);
      const spelt = scaleNotes(name, mode);
      return {
        key: { tonic: name, mode },
        notes: spelt,
        pitchClasses: new Set(modeSemitones(mode).map((s) => (tonic + s) % 12)),
        logScore: logScore(melody, tonic, mode),
        isGiven,
      };
    }),
  );
  const top = Math.max(...entries.map((e) => e.logScore));
  const total = entries.reduce((sum, e) => sum + Math.exp(e.logScore - top), 0);
  return entries
    .sort((a, b) => Number(b.isGiven) - Number(a.isGiven) || b.logScore - a.logScore)
    .map((e) => ({ ...e, score: Math.exp(e.logScore - top) / total }));
}

/**
 * Ranks the twelve tonics of every mode for a melody, best first; the scores are probabilities that sum to 1.
 */
export function rankScales(notes: readonly ScaleEvidence[], key?: Key): ScaleCandidate[] {
  const ranked = rank(notes, key);
  const sung = [...new Set(notes.map((n) => pitchClassOf(n.midi)))];
  return ranked.map((own, i) => {
    const fromOwnTonic = (a: number, b: number): number => {
      const tonic = nameParts(own.key.tonic)!.pitchClass;
      return ((a - tonic + 12) % 12) - ((b - tonic + 12) % 12);
    };
    const spell = (pitchClasses: Iterable<number>): string[] =>
      [...pitchClasses].sort(fromOwnTonic).map((pc) => pitchClassName(pc, own.key));
    const differing = (other: Ranked): number[] =>
      Array.from({ length: 12 }, (_, pc) => pc).filter(
        (pc) => own.pitchClasses.has(pc) !== other.pitchClasses.has(pc),
      );
    const rival = ranked.find((other, j) => j !== i && differing(other).length > 0);
    return {
      tonic: own.key.tonic,
      mode: own.key.mode,
      score: own.score,
      notes: own.notes,
      outside: spell(sung.filter((pc) => !own.pitchClasses.has(pc))),
      deciders: rival === undefined ? [] : spell(differing(rival)),
    };
  });
}
