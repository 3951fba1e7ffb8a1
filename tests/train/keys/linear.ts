/** The little linear algebra that the fit of the key model needs. */

/** The product of `x` with as many values of `at` from `from` on. */
export function dot(x: Float64Array, at: Float64Array, from: number): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i] * at[from + i];
  return sum;
}

/** Adds `factor`·x·xᵀ to the lower triangle of the block of `matrix` at (from, from). */
export function addOuter(matrix: Float64Array[], x: Float64Array, factor: number, from: number): void {
  for (let i = 0; i < x.length; i++) {
    const a = factor * x[i];
    if (a === 0) continue;
    const row = matrix[from + i];
    for (let j = 0; j <= i; j++) row[from + j] += a * x[j];
  }
}

/** x of A·x = b for a positive definite A of which the lower triangle is given (Cholesky); A is used up. */
export function solve(a: Float64Array[], b: Float64Array): Float64Array {
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
