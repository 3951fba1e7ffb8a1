/** Logistic regression with a pull towards 0, by Newton's method (Hastie, Tibshirani & Friedman 2009, section 4.4.1). */

export interface Fitted {
  /** One a column of the inputs. */
  readonly weights: readonly number[];
  readonly bias: number;
}

const STEPS = 30;

/**
 * Weights and bias that make the answers (0 or 1) likeliest, each counting by its share, less `pull`/2 for each
 * squared weight. Inputs should be of order 1.
 */
export function fitLogistic(
  inputs: readonly (readonly number[])[],
  answers: readonly number[],
  shares: readonly number[],
  pull: number,
): Fitted {
  const size = inputs[0].length + 1;
  let at = new Array<number>(size).fill(0);
  for (let step = 0; step < STEPS; step++) {
    const gradient = at.map((value, k) => (k < size - 1 ? pull * value : 0));
    const curvature = at.map((_, k) => at.map((__, j) => (k === j ? (k < size - 1 ? pull : 1e-9) : 0)));
    inputs.forEach((input, n) => {
      const row = [...input, 1];
      const p = 1 / (1 + Math.exp(-row.reduce((sum, x, k) => sum + x * at[k], 0)));
      const weight = shares[n];
      for (let k = 0; k < size; k++) {
        gradient[k] += weight * (p - answers[n]) * row[k];
        for (let j = 0; j < size; j++) curvature[k][j] += weight * p * (1 - p) * row[k] * row[j];
      }
    });
    const move = solve(curvature, gradient);
    at = at.map((value, k) => value - move[k]);
  }
  return { weights: at.slice(0, -1), bias: at[size - 1] };
}

/** x of A·x = b for a positive definite A, by elimination; A and b are used up. */
function solve(a: number[][], b: number[]): number[] {
  const n = b.length;
  for (let k = 0; k < n; k++) {
    for (let i = k + 1; i < n; i++) {
      const factor = a[i][k] / a[k][k];
      for (let j = k; j < n; j++) a[i][j] -= factor * a[k][j];
      b[i] -= factor * b[k];
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    x[k] = (b[k] - a[k].slice(k + 1).reduce((sum, value, i) => sum + value * x[k + 1 + i], 0)) / a[k][k];
  }
  return x;
}
