/** Multinomial logistic regression over the 24 keys, equal under transposition, by Newton's method (Hastie, Tibshirani & Friedman 2009, section 4.4). */
import { FEATURE_KINDS, type KeyFeatures } from '../../../src/theory/key-features.js';
import type { KeyWeights, ModeWeights } from '../../../src/theory/key-model.js';

export interface Example {
  readonly features: KeyFeatures;
  /** Tonic 0..11, and 12 more in minor. */
  readonly key: number;
  /** How much it counts. */
  readonly share: number;
}

const STEPS = 20;
const SIZE = 12 * FEATURE_KINDS.length + 1;

/** The features as seen from every tonic, with a 1 for the bias: 12 rows of SIZE. */
function rowsOf(features: KeyFeatures): Float64Array[] {
  return Array.from({ length: 12 }, (_, tonic) => {
    const row = new Float64Array(SIZE);
    FEATURE_KINDS.forEach((kind, k) => {
      for (let degree = 0; degree < 12; degree++)
        row[12 * k + degree] = features[kind][(tonic + degree) % 12];
    });
    row[SIZE - 1] = 1;
    return row;
  });
}

interface Prepared {
  readonly rows: readonly Float64Array[];
  readonly key: number;
  readonly share: number;
}

function dot(x: Float64Array, at: Float64Array, from: number): number {
  let sum = 0;
  for (let i = 0; i < SIZE; i++) sum += x[i] * at[from + i];
  return sum;
}

/** Probabilities of the 24 keys. */
function probabilities({ rows }: Prepared, at: Float64Array): Float64Array {
  const logs = Float64Array.from({ length: 24 }, (_, key) => dot(rows[key % 12], at, key < 12 ? 0 : SIZE));
  const top = Math.max(...logs);
  const raised = logs.map((log) => Math.exp(log - top));
  const sum = raised.reduce((a, b) => a + b, 0);
  return raised.map((r) => r / sum);
}

/** The pull on each weight; the biases are free but for what keeps the matrix definite. */
function pullAt(i: number, pull: number): number {
  return i % SIZE === SIZE - 1 ? 0.01 : pull;
}

function loss(examples: readonly Prepared[], at: Float64Array, pull: number): number {
  const fit = examples.reduce((sum, e) => sum - e.share * Math.log(probabilities(e, at)[e.key]), 0);
  return fit + at.reduce((sum, w, i) => sum + (pullAt(i, pull) * w * w) / 2, 0);
}

/** Adds `factor`·x·xᵀ to the lower triangle of the block of `matrix` at (from, from). */
function addOuter(matrix: Float64Array[], x: Float64Array, factor: number, from: number): void {
  for (let i = 0; i < x.length; i++) {
    const a = factor * x[i];
    if (a === 0) continue;
    const row = matrix[from + i];
    for (let j = 0; j <= i; j++) row[from + j] += a * x[j];
  }
}

/** x of A·x = b for a positive definite A of which the lower triangle is given (Cholesky); A is used up. */
function solve(a: Float64Array[], b: Float64Array): Float64Array {
  const n = b.length;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i][j];
      for (let k = 0; k < j; k++) sum -= a[i][k] * a[j][k];
      a[i][j] = i === j ? Math.sqrt(Math.max(sum, 1e-12)) : sum / a[j][j];
    }
  }
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] -= a[i][k] * x[k];
    x[i] /= a[i][i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] -= a[k][i] * x[k];
    x[i] /= a[i][i];
  }
  return x;
}

function newtonStep(examples: readonly Prepared[], at: Float64Array, pull: number): Float64Array {
  const gradient = at.map((w, i) => pullAt(i, pull) * w);
  const curvature = Array.from(at, (_, i) => {
    const row = new Float64Array(at.length);
    row[i] = pullAt(i, pull);
    return row;
  });
  for (const example of examples) {
    const p = probabilities(example, at);
    const mean = new Float64Array(at.length);
    for (let key = 0; key < 24; key++) {
      const from = key < 12 ? 0 : SIZE;
      const x = example.rows[key % 12];
      const error = example.share * (p[key] - (key === example.key ? 1 : 0));
      for (let i = 0; i < SIZE; i++) {
        gradient[from + i] += error * x[i];
        mean[from + i] += p[key] * x[i];
      }
      addOuter(curvature, x, example.share * p[key], from);
    }
    addOuter(curvature, mean, -example.share, 0);
  }
  return solve(curvature, gradient);
}

/** Weights of one mode: twelve a kind of evidence by degree, then the bias. */
export type FlatWeights = readonly [major: Float64Array, minor: Float64Array];

/** Weights that make the keys likeliest, less `pull`/2 for each squared weight. */
export function fitKeys(examples: readonly Example[], pull: number): FlatWeights {
  const prepared = examples.map(({ features, key, share }) => ({ rows: rowsOf(features), key, share }));
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
    const done = before - after < 1e-5 * before;
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
