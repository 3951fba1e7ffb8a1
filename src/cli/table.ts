/** Tables: for reading, or for other programs. */
import { oneLine } from './say.js';

/**
 * @param aligned for reading: columns with spaces; else a `#` line of headings, and tabs
 * @param rightAligned columns of numbers, from 0
 */
export function table(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
  aligned: boolean,
  rightAligned: ReadonlySet<number> = new Set(),
): string {
  const clean = rows.map((row) => row.map((cell) => oneLine(cell)));
  if (!aligned) return [`# ${headings.join('\t')}`, ...clean.map((row) => row.join('\t')), ''].join('\n');
  const all = [headings, ...clean];
  const widths = headings.map((_, column) => Math.max(...all.map((row) => row[column]!.length)));
  const line = (row: readonly string[]) =>
    row
      .map((cell, i) => (rightAligned.has(i) ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
      .join('  ')
      .trimEnd();
  return `${all.map(line).join('\n')}\n`;
}
