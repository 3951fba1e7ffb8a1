/** Which source recordings were taken for, against what they are. */
import type { Source } from '../../src/pitch/types.js';
import { alignTable } from './report.js';

export interface Taken {
  readonly group: string;
  /** What it is. */
  readonly source: Source;
  /** What it was taken for. */
  readonly taken: Source;
}

/** A row for each group, in order of first appearance, and one for all. */
export function takenTable(rows: readonly Taken[]): string {
  const line = (label: string, inside: readonly Taken[], is: string) => {
    const count = (source: Source) => inside.filter((row) => row.taken === source).length;
    const right = inside.filter((row) => row.taken === row.source).length;
    return [label, is, String(count('solo')), String(count('mix')), (right / inside.length).toFixed(3)];
  };
  const groups = [...new Set(rows.map((row) => row.group))];
  const body = groups.map((group) => {
    const inside = rows.filter((row) => row.group === group);
    return line(group, inside, inside[0]!.source);
  });
  return alignTable(
    ['recordings', 'is', 'taken solo', 'taken mix', 'right'],
    [...body, line('all', rows, '')],
  );
}
