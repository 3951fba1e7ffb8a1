/** Which scales hold a melody, ranked. */
import { pitchClassOf, type ScaleEvidence } from './key-features.js';
import type { HarmonyEvidence } from './key-harmony.js';
import type { KeyWeights } from './key-model.js';
import { scaleProbabilities } from './key-probabilities.js';
import { usualTonic } from './key-signature.js';
import { KEY_WEIGHTS } from './key-weights.js';
import { pitchClassNames } from './pitch-names.js';
import { MODES, modeSemitones, nameParts } from './tonal-tables.js';
import type { Key, Mode, NamedNotes, OutsideNotes, RankedScale } from './types.js';

export type { ScaleEvidence } from './key-features.js';
export type { HarmonyEvidence } from './key-harmony.js';

/** Confidence under which a note outside the scale may be a mishearing: likelier wrong than right. */
const DOUBTFUL_BELOW = 0.5;

/** Probabilities within this factor of the best of their place share it: odds that no listener would bet on. */
const TIED_WITHIN = 1.1;

interface Ranked {
  readonly tonicPitchClass: number;
  readonly key: Key;
  /** The pitch classes as bits, 0 the lowest. */
  readonly bits: number;
  readonly isGiven: boolean;
  readonly score: number;
}

/** All scales, best first, equal ones in the order of MODES and of their tonics from C; the given key before all. */
function ranking(
  notes: readonly ScaleEvidence[],
  given: Key | undefined,
  harmony: HarmonyEvidence | null,
  weights: KeyWeights,
): Ranked[] {
  const givenTonic = given === undefined ? -1 : nameParts(given.tonic)!.pitchClass;
  const ranked: Ranked[] = [];
  for (const { tonic, mode, score } of scaleProbabilities(notes, weights, harmony)) {
    const isGiven = mode === given?.mode && tonic === givenTonic;
    const key = { tonic: isGiven ? given.tonic : usualTonic(tonic, mode), mode };
    ranked.push({ tonicPitchClass: tonic, key, bits: pitchClassBits(tonic, mode), isGiven, score });
  }
  return ranked.sort(inOrder);
}

function inOrder(a: Ranked, b: Ranked): number {
  return (
    Number(b.isGiven) - Number(a.isGiven) ||
    b.score - a.score ||
    MODES.indexOf(a.key.mode) - MODES.indexOf(b.key.mode) ||
    a.tonicPitchClass - b.tonicPitchClass
  );
}

function pitchClassBits(tonic: number, mode: Mode): number {
  let bits = 0;
  for (const degree of modeSemitones(mode)) bits |= 1 << ((tonic + degree) % 12);
  return bits;
}

function holds({ bits }: Ranked, pitchClass: number): boolean {
  return ((bits >> pitchClass) & 1) === 1;
}

/** Places from 1; a scale shares the place of the one before while it is nearly as likely as the first of that place. */
function placesOf(ranked: readonly Ranked[]): number[] {
  let first = 0;
  return ranked.map((own, i) => {
    const head = ranked[first]!;
    if (i > 0 && (head.isGiven || own.score * TIED_WITHIN < head.score)) first = i;
    return first + 1;
  });
}

function lacks(a: Ranked, b: Ranked): boolean {
  return (b.bits & ~a.bits) !== 0;
}

/** The best-placed other scale such that each of the two holds a note that the other lacks. */
function rivalOf(own: Ranked, ranked: readonly Ranked[]): Ranked | undefined {
  for (const other of ranked) if (lacks(own, other) && lacks(other, own)) return other;
  return undefined;
}

/** Pitch classes of a scale nearest to one outside it, the lower first: two where both are as near. */
function nextTo(pitchClass: number, scale: Ranked): number[] {
  for (let away = 1; away < 12; away++) {
    const near = [pitchClassOf(pitchClass - away), pitchClassOf(pitchClass + away)];
    const held = near.filter((pc) => holds(scale, pc));
    if (held.length > 0) return held;
  }
  return [];
}

/** Numbers of the notes of every pitch class, and of those that are doubtful. */
interface Sung {
  readonly numbers: readonly (readonly number[])[];
  readonly doubtful: readonly (readonly number[])[];
}

function sungIn(notes: readonly ScaleEvidence[]): Sung {
  const numbers: number[][] = Array.from({ length: 12 }, () => []);
  const doubtful: number[][] = Array.from({ length: 12 }, () => []);
  notes.forEach(({ midi, confidence }, i) => {
    numbers[pitchClassOf(midi)]!.push(i + 1);
    if (confidence < DOUBTFUL_BELOW) doubtful[pitchClassOf(midi)]!.push(i + 1);
  });
  return { numbers, doubtful };
}

function nameOf({ name }: NamedNotes): string {
  return name;
}

/** One scale of the ranking with its names and the notes to listen for. */
function described(own: Ranked, place: number, rival: Ranked | undefined, sung: Sung): RankedScale {
  const names = pitchClassNames(own.key);
  const notes: string[] = [];
  const decidersAt: NamedNotes[] = [];
  const outsideAt: OutsideNotes[] = [];
  for (let degree = 0; degree < 12; degree++) {
    const pc = (own.tonicPitchClass + degree) % 12;
    const name = names[pc]!;
    const numbers = sung.numbers[pc]!;
    const isHeld = holds(own, pc);
    if (isHeld) notes.push(name);
    else if (numbers.length > 0) {
      const beside = nextTo(pc, own).map((near) => names[near]!);
      outsideAt.push({ name, numbers, doubtful: sung.doubtful[pc]!, nextTo: beside });
    }
    if (rival !== undefined && isHeld !== holds(rival, pc)) decidersAt.push({ name, numbers });
  }
  return {
    ...own.key,
    score: own.score,
    notes,
    outside: outsideAt.map(nameOf),
    deciders: decidersAt.map(nameOf),
    place,
    rival: rival === undefined ? null : rival.key,
    decidersAt,
    outsideAt,
  };
}

/**
 * Ranks the twelve tonics of every mode for a melody, best first; scores are probabilities and sum to 1. First a
 * log-linear model weighs the 24 major and minor keys by the notes of each degree (number and sounding time), the ends
 * of lines, the silences after them, the first and last note, and the harmony of a band; then the scales of a tonic share its probability by
 * the notes they hold, which a single passing note hardly changes. With few notes all keys stay near each other. A given
 * key comes first, under its own name, whatever its score; the others follow in order.
 *
 * Names are spelt for the scale, from its tonic up. Deciders tell the scale from the best-placed other one that both
 * holds a note this one lacks and lacks one it holds: relative keys hold the same notes, and a pentatonic lies in its
 * scale, so that no note decides between them.
 *
 * @param harmony what a band plays under the melody, null where there is none or it is not known
 * @param weights of the key model; others than the program's own only where songs are kept apart for measuring
 * @param most how many are described and returned
 */
export function rankScales(
  notes: readonly ScaleEvidence[],
  key?: Key,
  harmony: HarmonyEvidence | null = null,
  weights: KeyWeights = KEY_WEIGHTS,
  most = Number.POSITIVE_INFINITY,
): RankedScale[] {
  const ranked = ranking(notes, key, harmony, weights);
  const places = placesOf(ranked);
  const sung = sungIn(notes);
  const scales: RankedScale[] = [];
  for (let i = 0; i < ranked.length && i < most; i++) {
    scales.push(described(ranked[i]!, places[i]!, rivalOf(ranked[i]!, ranked), sung));
  }
  return scales;
}
