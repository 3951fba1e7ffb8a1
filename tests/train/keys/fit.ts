/**
 * Logistic regression over the tonics of every frame (major, minor and the modes made of them), equal under
 * transposition, by Newton's method (Hastie, Tibshirani & Friedman 2009, section 4.4). The frames of a base share its
 * weights, and where only the base of a melody is known, any of its frames is right.
 */
import { FEATURE_KINDS, type KeyFeatures } from '../../../src/theory/key-features.js';
import { type Base, FRAMES } from '../../../src/theory/key-kinds.js';
import { type KeyWeights, type ModeWeights, placesOf } from '../../../src/theory/key-model.js';
import { addOuter, dot, solve } from './linear.js';

export interface Example {
  readonly features: KeyFeatures;
  /** Pitch class 0..11. */
  readonly tonic: number;
  readonly base: Base;
  /** Index in FRAMES[base], or null where any of them may be meant. */
  readonly frame: number | null;
  /** How much it counts. */
  readonly share: number;
}

const STEPS = 20;
const SIZE = 12 * FEATURE_KINDS.length + 1;
/** Fall of the loss, as a share of it, under which the fit is done. */
const DONE = 1e-4;
/** Probability under which an answer adds nothing to the curvature that matters. */
const NEGLIGIBLE = 1e-7;

/** Every frame: where its weights begin, its place in its base, and how its degrees change places. */
const CLASSES = (['major', 'minor'] as const).flatMap((base, b) =>
  FRAMES[base].map(({ swaps, prior }, frame) => ({
    base,
    frame,
    from: b * SIZE,
    logPrior: Math.log(prior),
    places: placesOf(swaps),
  })),
);

interface Prepared {
  /** The features as seen from every tonic of every frame, with a 1 for the bias: SIZE numbers each. */
  readonly rows: readonly (readonly Float64Array[])[];
  /** Whether each frame is a right one. */
  readonly isRight: readonly boolean[];
  readonly tonic: number;
  readonly share: number;
}

function prepare({ features, tonic, base, frame, share }: Example): Prepared {
  const rows = CLASSES.map(({ places }) =>
    Array.from({ length: 12 }, (_, top) => {
      const row = new Float64Array(SIZE);
      FEATURE_KINDS.forEach((kind, k) => {
        for (let degree = 0; degree < 12; degree++) {
          row[12 * k + places[degree]] = features[kind][(top + degree) % 12];
        }
      });
      row[SIZE - 1] = 1;
      return row;
    }),
  );
  const isRight = CLASSES.map((own) => own.base === base && (frame === null || own.frame === frame));
  return { rows, isRight, tonic, share };
}

/** Probabilities of the twelve tonics of every frame, one after another, and of the right ones together. */
function probabilities({ rows, isRight, tonic }: Prepared, at: Float64Array) {
  const logs = CLASSES.flatMap(({ logPrior, from }, c) =>
    rows[c].map((row) => logPrior + dot(row, at, from)),
  );
  const top = Math.max(...logs);
  const raised = logs.map((log) => Math.exp(log - top));
  const sum = raised.reduce((a, b) => a + b, 0);
  const right = isRight.reduce((total, is, c) => total + (is ? raised[12 * c + tonic] : 0), 0) / sum;
  return { each: raised.map((value) => value / sum), right };
}

/** The pull on each weight; the biases are free but for what keeps the matrix definite. */
function pullAt(i: number, pull: number): number {
  return i % SIZE === SIZE - 1 ? 0.01 : pull;
}

function loss(examples: readonly Prepared[], at: Float64Array, pull: number): number {
  const fit = examples.reduce((sum, e) => sum - e.share * Math.log(probabilities(e, at).right), 0);
  return fit + at.reduce((sum, w, i) => sum + (pullAt(i, pull) * w * w) / 2, 0);
}

/** The step by the curvature of the sum over all answers, which is never less than that of the loss. */
function newtonStep(examples: readonly Prepared[], at: Float64Array, pull: number): Float64Array {
  const gradient = at.map((w, i) => pullAt(i, pull) * w);
  const curvature = Array.from(at, (_, i) => {
    const row = new Float64Array(at.length);
    row[i] = pullAt(i, pull);
    return row;
  });
  for (const example of examples) {
    const { each, right } = probabilities(example, at);
    const mean = new Float64Array(at.length);
    CLASSES.forEach(({ from }, c) => {
      example.rows[c].forEach((x, tonic) => {
        const p = each[12 * c + tonic];
        if (p < NEGLIGIBLE) return;
        const wanted = tonic === example.tonic && example.isRight[c] ? p / right : 0;
        for (let i = 0; i < SIZE; i++) {
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

/** Weights of one mode: twelve a kind of evidence by degree, then the bias. */
export type FlatWeights = readonly [major: Float64Array, minor: Float64Array];

/** Weights that make the keys likeliest, less `pull`/2 for each squared weight. */
export function fitKeys(examples: readonly Example[], pull: number): FlatWeights {
  const prepared = examples.map(prepare);
  let at = new Float64Array(2 * SIZE);
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
  return [at.slice(0, SIZE), at.slice(SIZE)];
}

/** The weights in the form in which the program keeps them. */
export function keyWeightsOf([major, minor]: FlatWeights): KeyWeights {
  const named = (flat: Float64Array): ModeWeights => {
    const rows = FEATURE_KINDS.map((kind, k) => [kind, Array.from(flat.slice(12 * k, 12 * k + 12))]);
    return {
      bias: flat[SIZE - 1],
      degrees: Object.fromEntries(rows) as ModeWeights['degrees'],
    };
  };
  return { major: named(major), minor: named(minor) };
}
