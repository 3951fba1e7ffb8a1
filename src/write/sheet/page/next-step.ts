/** What the page advises to do next. Pure. */
import type { SongLine } from '../page-data.js';

/** An advice, and the number of the line that it is about; null where it is about the whole song. */
export interface NextStep {
  readonly words: string;
  readonly line: number | null;
}

/**
 * The first line that is not learnt; a line like one that is learnt comes before others, for it costs least.
 * @param learnt numbers of lines, from 1
 */
export function nextStep(lines: readonly SongLine[], learnt: ReadonlySet<number>): NextStep {
  const open = lines.map((_, i) => i + 1).filter((number) => !learnt.has(number));
  const [first] = open;
  if (first === undefined) {
    return {
      words:
        'Every line is learnt. Play the whole song without a stop, first slowly; then choose another key.',
      line: null,
    };
  }
  if (learnt.size === 0) {
    return {
      words: `Begin with line ${first}: listen to it, put the hand where it says, and play it slowly, in a loop.`,
      line: first,
    };
  }
  const known = open.find((number) => learnt.has(lines[number - 1]!.like ?? 0));
  if (known !== undefined) {
    return {
      words: `Next: line ${known}. It is like line ${lines[known - 1]!.like}, which you know: listen for what differs.`,
      line: known,
    };
  }
  const joined = learnt.has(first - 1) ? ` Then play lines ${first - 1} and ${first} after each other.` : '';
  return { words: `Next: line ${first}.${joined}`, line: first };
}
