/** Tables: for reading, or for other programs. */
import { cutStart, textWidth } from '../write/screen/text-width.js';
import { oneLine } from './say.js';

export interface TableLook {
  /** Columns of the terminal: cells are aligned with spaces. Null: a `#` line of headings, and tabs. */
  readonly width: number | null;
  /** Columns of numbers, from 0. */
  readonly rightAligned?: ReadonlySet<number>;
  /** The column of names, from 0, which is cut where a row would be wider than the terminal. */
  readonly names: number;
}

/** Narrowest column that names are cut to: less tells nothing. */
const NARROWEST_NAMES = 16;
const GAP = '  ';

export function table(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
  { width, rightAligned = new Set(), names }: TableLook,
): string {
  const clean = rows.map((row) => row.map((cell) => oneLine(cell)));
  if (width === null)
    return [`# ${headings.join('\t')}`, ...clean.map((row) => row.join('\t')), ''].join('\n');
  const all = [headings, ...clean];
  const widths = headings.map((_, column) => Math.max(...all.map((row) => textWidth(row[column]!))));
  const over = widths.reduce((sum, own) => sum + own + GAP.length, -GAP.length) - width;
  if (over > 0) widths[names] = Math.min(widths[names]!, Math.max(NARROWEST_NAMES, widths[names]! - over));
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => {
        const shown = cutStart(cell, widths[i]!);
        const blanks = ' '.repeat(widths[i]! - textWidth(shown));
        return rightAligned.has(i) ? `${blanks}${shown}` : `${shown}${blanks}`;
      })
      .join(GAP)
      .trimEnd();
  return `${all.map(line).join('\n')}\n`;
}
