/** Grades laid out for reading, and as JSON. */
import type { Grade } from '../hand/grade/types.js';
import { CAUTION } from '../write/caution.js';
import { gradeWords, wholeLevel } from '../write/screen/grade-words.js';
import { wrap } from '../write/screen/wrap.js';
import type { Paint } from '../write/types.js';
import { inputLabel } from './read-bytes.js';
import { oneLine } from './say.js';

/** An input with its grade. */
export interface Graded {
  /** As it was named. */
  readonly file: string;
  readonly grade: Grade;
}

/** Reasons given of each where there are several. */
const REASONS_SHOWN = 3;
const INDENT = '  ';

/** The easiest first; those of one level in the order in which they were named. */
export function easiestFirst(graded: readonly Graded[]): Graded[] {
  return [...graded].sort((a, b) => a.grade.level - b.grade.level);
}

/** One object an input, a line each. */
export function gradesJson(sorted: readonly Graded[]): string {
  if (sorted.length === 0) return '[]\n';
  const rows = sorted.map(({ file, grade: { level, reasons } }) => JSON.stringify({ file, level, reasons }));
  return `[\n  ${rows.join(',\n  ')}\n]\n`;
}

/**
 * One alone with all its reasons and what each adds; of several, what adds most and what makes each harder than the
 * one before. No line is longer than `width` columns, if the names allow. Ends with a newline.
 */
export function gradesText(
  sorted: readonly Graded[],
  paint: Paint,
  { width }: { readonly width: number },
): string {
  const blocks =
    sorted.length === 1
      ? [[heading(sorted[0]!, paint), `${INDENT}from 1, this adds`, ...allReasons(sorted[0]!.grade, width)]]
      : sorted.map((one, i) => [
          `${i + 1}. ${heading(one, paint)}`,
          ...wrap(place(one, sorted[i - 1]), width, INDENT, INDENT),
          ...wrap(one.grade.reasons.slice(0, REASONS_SHOWN).join('; '), width, INDENT, INDENT),
        ]);
  const advice = wrap(CAUTION, width, '', '').map((text) => paint.dim(text));
  return `${[...blocks, advice].map((block) => block.join('\n')).join('\n\n')}\n`;
}

function heading({ file, grade }: Graded, paint: Paint): string {
  return `${paint.bold(gradeWords(grade))}: ${shown(file)}`;
}

/** What an input is called for people. */
function shown(file: string): string {
  return oneLine(inputLabel(file));
}

function allReasons({ parts, reasons }: Grade, width: number): string[] {
  return parts.flatMap(({ adds }, i) =>
    wrap(`+${adds.toFixed(1)}  ${reasons[i]!}`, width, INDENT, `${INDENT}      `),
  );
}

/** What to do with it: where to begin, or what it asks for that the one before did not. */
function place(own: Graded, before: Graded | undefined): string {
  if (before === undefined) return 'start with this one';
  if (own.grade.level === before.grade.level) return `as hard as ${shown(before.file)}`;
  const [most] = own.grade.parts
    .map((part, i) => {
      const at = before.grade.parts.findIndex(({ what }) => what === part.what);
      return {
        more: part.adds - before.grade.parts[at]!.adds,
        reason: own.grade.reasons[i]!,
        there: before.grade.reasons[at]!,
      };
    })
    .sort((a, b) => b.more - a.more);
  const little = wholeLevel(own.grade) === wholeLevel(before.grade) ? 'a little ' : '';
  return `${little}harder than ${shown(before.file)}: ${most!.reason} (there: ${most!.there})`;
}
