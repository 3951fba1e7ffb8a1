import { tuningOf } from './tuning.js';

/** A note's pitch before it has a key. */
export interface SungPitch {
  /** Seconds. */
  readonly start: number;
  readonly end: number;
  /** Fractional MIDI number. */
  readonly pitch: number;
}

/** A key with its probability among the keys, and the runner-up. */
export interface KeyChoice {
  readonly midi: number;
  readonly probability: number;
  readonly other: number;
  readonly otherProbability: number;
}

/** Cells of the reference pitch, semitones; a listener hears steps of about 10 cents (Hill & Summers 2007). */
const CELL = 0.05;
/** The reference may wander this far from A4 = 440 Hz, semitones. */
const FURTHEST = 1.2;
/**
 * Spread of sung notes around the singer's own reference, semitones: a median error of 19 cents is a standard
 * deviation of 28 (Mauch, Frieler & Dixon 2014, abstract). The tails are heavier than a Gaussian's.
 */
const SPREAD = 0.28;
const TAIL = 0.03;
/**
 * Unaccompanied singers drift: a median of 11 cents in 50 s (same source), which a random walk of this many
 * semitones a square-root second gives.
 */
const DRIFT_PER_ROOT_SECOND = 0.016;
/** Spread of the reference around the recording's tuning at the start, semitones. */
const START_SPREAD = 0.15;

/**
 * Chooses a piano key for every note. The singer's reference pitch is a hidden random walk around the tuning
 * of the recording; a note lies near a key above that reference. Sums over all references (forward–backward)
 * give the probability of every key for every note, so a singer who sinks by and by is followed and a note
 * half-way between two keys is known to be doubtful.
 *
 * @returns the keys, and the tuning of the whole in cents, −50..50
 */
export function chooseKeys(notes: readonly SungPitch[]): { keys: KeyChoice[]; tuningCents: number } {
  const weights = notes.map((n) => n.end - n.start);
  const tuning = tuningOf(
    notes.map((n) => n.pitch),
    weights,
  );
  const cells = Math.round((2 * FURTHEST) / CELL) + 1;
  const reference = Float64Array.from({ length: cells }, (_, c) => -FURTHEST + c * CELL);
  const fits = notes.map((n) => reference.map((r) => nearness(n.pitch - r)));

  const forward: Float64Array[] = [];
  let belief = reference.map((r) => Math.exp(-(((r - tuning) / START_SPREAD) ** 2) / 2));
  notes.forEach((note, i) => {
    if (i > 0) belief = wander(belief, note.start - notes[i - 1].start);
    belief = normalise(product(belief, fits[i]));
    forward.push(belief);
  });
  let backward = new Float64Array(cells).fill(1);
  const keys: KeyChoice[] = new Array(notes.length);
  for (let i = notes.length - 1; i >= 0; i--) {
    const after = backward;
    keys[i] = choice(notes[i].pitch, reference, product(forward[i], after));
    if (i > 0) {
      backward = wander(product(after, fits[i]), notes[i].start - notes[i - 1].start);
      backward = normalise(backward);
    }
  }
  return { keys, tuningCents: 100 * tuning };
}

/** Likelihood of a pitch, given relative to the reference: near any key. */
function nearness(relative: number): number {
  return closeness(relative - Math.round(relative));
}

function closeness(distance: number): number {
  return Math.exp(-((distance / SPREAD) ** 2) / 2) + TAIL;
}

function product(a: Float64Array, b: Float64Array): Float64Array<ArrayBuffer> {
  const values = new Float64Array(a.length);
  for (let c = 0; c < a.length; c++) values[c] = a[c] * b[c];
  return values;
}

/** Lets the reference wander for some seconds. */
function wander(belief: Float64Array, seconds: number): Float64Array<ArrayBuffer> {
  const spread = (DRIFT_PER_ROOT_SECOND * Math.sqrt(Math.max(seconds, 0.05))) / CELL;
  const reach = Math.max(1, Math.ceil(3 * spread));
  const kernel = new Float64Array(2 * reach + 1);
  for (let k = 0; k < kernel.length; k++) kernel[k] = Math.exp(-(((k - reach) / spread) ** 2) / 2);
  const out = new Float64Array(belief.length);
  for (let c = 0; c < belief.length; c++) {
    let sum = 0;
    for (let k = -reach; k <= reach; k++) {
      const d = Math.min(belief.length - 1, Math.max(0, c + k));
      sum += belief[d] * kernel[k + reach];
    }
    out[c] = sum;
  }
  return normalise(out);
}

function normalise(values: Float64Array): Float64Array<ArrayBuffer> {
  let sum = 0;
  for (let c = 0; c < values.length; c++) sum += values[c];
  const shares = new Float64Array(values.length);
  for (let c = 0; c < values.length; c++) shares[c] = sum > 0 ? values[c] / sum : 1 / values.length;
  return shares;
}

/** Sums the probability of each key over the references; within one reference the two nearest keys compete. */
function choice(pitch: number, reference: Float64Array, belief: Float64Array): KeyChoice {
  const mass = new Map<number, number>();
  let total = 0;
  for (let c = 0; c < reference.length; c++) {
    const relative = pitch - reference[c];
    const below = Math.floor(relative);
    const low = closeness(relative - below);
    const high = closeness(relative - below - 1);
    const toLow = (belief[c] * low) / (low + high);
    const toHigh = (belief[c] * high) / (low + high);
    mass.set(below, (mass.get(below) ?? 0) + toLow);
    mass.set(below + 1, (mass.get(below + 1) ?? 0) + toHigh);
    // One after the other: a sum in another order could differ in its last bit.
    total += toLow;
    total += toHigh;
  }
  const ranked = [...mass].sort((a, b) => b[1] - a[1]);
  const [midi, first] = ranked[0];
  const [other, second] = ranked[1] ?? [midi + 1, 0];
  return { midi, probability: first / total, other, otherProbability: second / total };
}
