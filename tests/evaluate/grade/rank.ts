/** How two orders agree. */

/** Places from 1, those of equal values shared as their mean. */
export function ranks(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return values.map((value) => (sorted.indexOf(value) + sorted.lastIndexOf(value)) / 2 + 1);
}

/** Spearman's rank correlation (Spearman 1904): the product-moment correlation of the ranks, −1 to 1; NaN where all are equal. */
export function spearman(a: readonly number[], b: readonly number[]): number {
  const [x, y] = [centred(ranks(a)), centred(ranks(b))];
  const product = (u: readonly number[], v: readonly number[]) =>
    u.reduce((sum, own, i) => sum + own * v[i]!, 0);
  return product(x, y) / Math.sqrt(product(x, x) * product(y, y));
}

function centred(values: readonly number[]): number[] {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.map((value) => value - mean);
}

/** The value below which a share of them lies, the nearest rank. */
export function quantile(values: readonly number[], share: number): number {
  return [...values].sort((a, b) => a - b)[Math.round(share * (values.length - 1))]!;
}
