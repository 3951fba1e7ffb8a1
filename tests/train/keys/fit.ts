/**
 * Logistic regression over the tonics of every frame (major, minor and the modes made of them), equal under
 * transposition, by Newton's method (Hastie, Tibshirani & Friedman 2009, section 4.4). The frames of a base share its
 * weights, and where only the base of a melody is known, any of its frames is right.
 */
import { type Base, FRAMES } from '../../../src/theory/key-kinds.js';
import { type ModeWeights, placesOf } from '../../../src/theory/key-model.js';
import { addOuter, dot, solve } from './linear.js';

export interface Example<Kind extends string> {
  /** Twelve values a kind, by pitch class from C. */
  readonly features: Readonly<Record<Kind, Float64Array>>;
  /** Log probabilities of the twelve tonics of each frame from other evidence, up to a constant; absent: all alike. */
  readonly before?: Readonly<Record<Base, readonly Float64Array[]>>;
  /** Pitch class 0..11. */
  readonly tonic: number;
  readonly base: Base;
  /** Index in FRAMES[base], or null where any of them may be meant. */
  readonly frame: number | null;
  /** How much it counts. */
  readonly share: number;
}

const STEPS = 20;
/** Fall of the loss, as a share of it, under which the fit is done. */
const DONE = 1e-4;
/** Probability under which an answer adds nothing to the curvature that matters. */
const NEGLIGIBLE = 1e-7;

/** Every frame: which of the two sets of weights is its, its place in its base, and how its degrees change places. */
const CLASSES = (['major', 'minor'] as const).flatMap((base, b) =>
  FRAMES[base].map(({ swaps, prior }, frame) => ({
    base,
    frame,
    set: b,
    logPrior: Math.log(prior),
    places: placesOf(swaps),
  })),
);

interface Prepared {
  /** The features as seen from every tonic of every frame, with a 1 for the bias. */
  readonly rows: readonly (readonly Float64Array[])[];
  /** By frame and tonic. */
  readonly before: readonly (readonly number[])[];
  /** Whether each frame is a right one. */
  readonly isRight: readonly boolean[];
  readonly tonic: number;
  readonly share: number;
}

function prepare<Kind extends string>(
  { features, before, tonic, base, frame, share }: Example<Kind>,
  kinds: readonly Kind[],
): Prepared {
  const rows = CLASSES.map(({ places }) =>
    Array.from({ length: 12 }, (_, top) => {
      const row = new Float64Array(12 * kinds.length + 1);
      kinds.forEach((kind, k) => {
        for (let degree = 0; degree < 12; degree++) {
          row[12 * k + places[degree]] = features[kind][(top + degree) % 12];
        }
      });
      row[row.length - 1] = 1;
      return row;
    }),
  );
  const isRight = CLASSES.map((own) => own.base === base && (frame === null || own.frame === frame));
  const known = CLASSES.map((own) =>
    Array.from({ length: 12 }, (_, top) => own.logPrior + (before?.[own.base][own.frame][top] ?? 0)),
  );
  return { rows, before: known, isRight, tonic, share };
}

/** Probabilities of the twelve tonics of every frame, one after another, and of the right ones together. */
function probabilities({ rows, before, isRight, tonic }: Prepared, at: Float64Array) {
  const logs = CLASSES.flatMap(({ set }, c) =>
    rows[c].map((row, tonicAt) => before[c][tonicAt] + dot(row, at, (set * at.length) / 2)),
  );
  const top = Math.max(...logs);
  const raised = logs.map((log) => Math.exp(log - top));
  const sum = raised.reduce((a, b) => a + b, 0);
  const right = isRight.reduce((total, is, c) => total + (is ? raised[12 * c + tonic] : 0), 0) / sum;
  return { each: raised.map((value) => value / sum), right };
}

/** The pull on each weight; the biases are free but for what keeps the matrix definite. */
function pullAt(i: number, weights: number, pull: number): number {
  return (i + 1) % (weights / 2) === 0 ? 0.01 : pull;
}

function loss(examples: readonly Prepared[], at: Float64Array, pull: number): number {
  const fit = examples.reduce((sum, e) => sum - e.share * Math.log(probabilities(e, at).right), 0);
  return fit + at.reduce((sum, w, i) => sum + (pullAt(i, at.length, pull) * w * w) / 2, 0);
}

/** The step by the curvature of the sum over all answers, which is never less than that of the loss. */
function newtonStep(examples: readonly Prepared[], at: Float64Array, pull: number): Float64Array {
  const gradient = at.map((w, i) => pullAt(i, at.length, pull) * w);
  const curvature = Array.from(at, (_, i) => {
    const row = new Float64Array(at.length);
    row[i] = pullAt(i, at.length, pull);
    return row;
  });
  for (const example of examples) {
    const { each, right } = probabilities(example, at);
    const mean = new Float64Array(at.length);
    CLASSES.forEach(({ set }, c) => {
      const from = (set * at.length) / 2;
      example.rows[c].forEach((x, tonic) => {
        const p = each[12 * c + tonic];
        if (p < NEGLIGIBLE) return;
        const wanted = tonic === example.tonic && example.isRight[c] ? p / right : 0;
        for (let i = 0; i < x.length; i++) {
          gradient[from + i] += example.share * (p - wanted) * x[i];
          mean[from + i] += p * x[i];
        }
        addOuter(curvature, x, example.share * p, from);
      });
    });
    addOuter(curvature, mean, -example.share, 0);
  }
  return solve(curvature, gradient);
}

/** Weights that make the keys likeliest, less `pull`/2 for each squared weight. */
export function fitKeys<Kind extends string>(
  examples: readonly Example<Kind>[],
  kinds: readonly Kind[],
  pull: number,
): Readonly<Record<Base, ModeWeights<Kind>>> {
  const prepared = examples.map((example) => prepare(example, kinds));
  let at = new Float64Array(2 * (12 * kinds.length + 1));
  let before = loss(prepared, at, pull);
  for (let step = 0; step < STEPS; step++) {
    const move = newtonStep(prepared, at, pull);
    let [length, next, after] = [1, at, before];
    do {
      next = at.map((w, i) => w - length * move[i]);
      after = loss(prepared, next, pull);
      length /= 2;
    } while (after > before && length > 1e-3);
    if (after >= before) break;
    const done = before - after < DONE * before;
    [at, before] = [next, after];
    if (done) break;
  }
  const half = at.length / 2;
  return { major: named(at.slice(0, half), kinds), minor: named(at.slice(half), kinds) };
}

/** The weights in the form in which the program keeps them, from twelve a kind by degree and the bias. */
function named<Kind extends string>(flat: Float64Array, kinds: readonly Kind[]): ModeWeights<Kind> {
  const rows = kinds.map((kind, k) => [kind, Array.from(flat.slice(12 * k, 12 * k + 12))]);
  return { bias: flat[flat.length - 1], degrees: Object.fromEntries(rows) as Record<Kind, number[]> };
}
