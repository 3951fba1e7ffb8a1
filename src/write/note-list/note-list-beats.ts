/** The lines of a note list that hold beats one by one. */
import { InputError } from '../../errors.js';
import { BEAT_SPAN, findBeatFault } from '../check-beats.js';
import { fixed } from '../numbers.js';
import { parseNumber, type Where, wrongField } from './note-list-field.js';

const KEY = 'beat-seconds';
/** Bars on a line. */
const BARS_A_LINE = 4;

/** `# beat-seconds 0.512 1.013 …`, four bars of beats to a line. */
export function beatSecondsLines(beats: readonly number[], beatsPerBar: number): string[] {
  const perLine = Math.max(1, Math.round(BARS_A_LINE * beatsPerBar));
  const lines: string[] = [];
  for (let at = 0; at < beats.length; at += perLine) {
    const shown = beats.slice(at, at + perLine).map((time) => fixed(time, 3));
    lines.push(`# ${KEY} ${shown.join(' ')}`);
  }
  return lines;
}

/** Takes up the beats of a `#` line after those of earlier ones; other lines hold none. */
export function takeBeats(line: string, where: Where, beats: { seconds: number; where: Where }[]): void {
  const [key, ...words] = line.slice(1).trim().split(/\s+/);
  if (key !== KEY) return;
  for (const word of words) {
    const seconds = parseNumber(word);
    if (seconds === null) throw wrongField(where, `# ${KEY}`, word, 'seconds with blanks between them');
    beats.push({ seconds, where });
  }
}

/** The beats of all lines; null where there are fewer than two. Throws InputError where they are no row of beats. */
export function checkedBeats(
  beats: readonly { readonly seconds: number; readonly where: Where }[],
): number[] | null {
  const seconds = beats.map((beat) => beat.seconds);
  const fault = findBeatFault(seconds);
  if (fault >= 0) {
    const { label, line } = beats[fault]!.where;
    throw new InputError(
      `${label}, line ${line}, # ${KEY}: ${seconds[fault]} is not ${BEAT_SPAN} after the beat before, ${seconds[fault - 1]}.`,
    );
  }
  return seconds.length < 2 ? null : seconds;
}
