import type { Melody, MelodyNote } from '../../melody.js';
import { clockTenths } from '../clock.js';
import type { Paint } from '../types.js';
import { wrap } from './wrap.js';

/** Keeps a part of the heading on one line of the screen; none is in the text itself. */
const NO_BREAK = '\u00a0';

/**
 * The number of a line of the song, in bold, and after it what is known of it: its time, bars, section (where there
 * are several) and the line that it repeats.
 *
 * @param notes those of the line, at least one
 */
export function heading(
  melody: Melody,
  number: number,
  notes: readonly MelodyNote[],
  paint: Paint,
  width: number,
): string[] {
  const line = melody.lines[number - 1];
  const { sections } = melody;
  const section = sections.find(({ first, last }) => first <= number && number <= last);
  const title = `line ${number}`;
  const parts = [
    title,
    `${clockTenths(line?.start ?? notes[0]!.start)}–${clockTenths(line?.end ?? notes.at(-1)!.end)}`,
    ...barsOf(melody, notes),
    ...(section && sections.length > 1 ? [`section ${section.letter}`] : []),
    ...(line?.like ? [`like line ${line.like}`] : []),
  ];
  const text = parts.join(' · ').replaceAll(' ', NO_BREAK).replaceAll(`·${NO_BREAK}`, '· ');
  const [first, ...others] = wrap(text, width, '', '  ').map((row) => row.replaceAll(NO_BREAK, ' '));
  return [paint.bold(title) + first!.slice(title.length), ...others];
}

/** `bar 3` or `bars 9–12`: from the first note to where the last one ends; nothing where bars are not known. */
function barsOf({ meter: { beatsPerBar } }: Melody, notes: readonly MelodyNote[]): string[] {
  const first = notes[0]!.bar;
  const { bar, beat, beats } = notes.at(-1)!;
  if (first === null || bar === null || beat === null || beats === null || beatsPerBar === null) return [];
  // Beats are thirds at the finest; an end on the bar line is in the bar before it.
  const last = bar + Math.max(Math.ceil((beat - 1 + beats) / beatsPerBar - 1e-6) - 1, 0);
  return [first === last ? `bar ${first}` : `bars ${first}–${last}`];
}
