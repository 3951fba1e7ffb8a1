/** How wide a text may be. */
import type { Output } from './context.js';

/** Columns where there is no terminal, or it does not tell. */
const USUAL = 80;

/** Columns of an output. */
export function columnsOf({ isTTY, columns }: Pick<Output, 'isTTY' | 'columns'>): number {
  return (isTTY === true && columns) || USUAL;
}

/** Columns of a table on it; null where it is no terminal. */
export function tableWidthOf(output: Pick<Output, 'isTTY' | 'columns'>): number | null {
  return output.isTTY === true ? columnsOf(output) : null;
}
