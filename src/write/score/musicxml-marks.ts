/** Words, letters and tempo over the staff, as MusicXML directions, and where a system begins. */
import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { namingOf } from '../naming-of.js';
import { rounded } from '../numbers.js';
import { otherNamer } from '../other-name.js';
import { type Element, element } from './xml.js';

/**
 * The directions that belong to a note, by its number from 0: section, line of the song, doubt. A doubt is short, as the
 * next note may have one.
 */
export function noteMarks(melody: Melody, names: NameSystem): (index: number) => Element[] {
  const nameOther = otherNamer(melody, namingOf(melody, names));
  return (index) => {
    const note = melody.notes[index]!;
    return [
      ...(startsLine(melody, index) ? lineMarks(melody, note.line) : []),
      ...(note.other === null ? [] : [words(`${nameOther(note.other)}?`, 'below')]),
    ];
  };
}

/** Whether a note, by its number from 0, is the first of its line of the song. */
export function startsLine({ notes }: Pick<Melody, 'notes'>, index: number): boolean {
  return notes[index]!.line !== notes[index - 1]?.line;
}

function lineMarks({ lines, sections }: Melody, line: number): Element[] {
  const section = sections.find(({ first }) => first === line);
  const like = lines[line - 1]?.like ?? null;
  return [
    ...(section ? [direction([element('rehearsal', section.letter)], 'above')] : []),
    words(`line ${line}${like === null ? '' : ` (like line ${like})`}`, 'above'),
  ];
}

export function words(text: string, placement: 'above' | 'below'): Element {
  return direction([element('words', text)], placement);
}

/** What a metronome mark counts, and how many beats of the metre that is. */
export interface TempoUnit {
  readonly type: 'quarter' | 'eighth';
  readonly dotted: boolean;
  readonly beats: number;
  /** Quarter notes in it. */
  readonly quarters: number;
}

/** A quarter; in bars of eighths that come in threes, a dotted quarter (common practice), else an eighth. */
export function tempoUnit(beatUnit: 4 | 8, beatsPerBar: number): TempoUnit {
  if (beatUnit === 4) return { type: 'quarter', dotted: false, beats: 1, quarters: 1 };
  if (beatsPerBar % 3 === 0 && beatsPerBar > 3) {
    return { type: 'quarter', dotted: true, beats: 3, quarters: 1.5 };
  }
  return { type: 'eighth', dotted: false, beats: 1, quarters: 0.5 };
}

/**
 * A tempo: for programs as quarters a minute, for players as a metronome mark.
 *
 * @param shownBpm what the metronome mark says, null for a tempo that is not shown
 */
export function tempoMark(bpm: number, unit: TempoUnit, shownBpm: number | null): Element {
  const perMinute = bpm / unit.beats;
  const metronome = element(
    'metronome',
    [
      element('beat-unit', unit.type),
      ...(unit.dotted ? [element('beat-unit-dot')] : []),
      element('per-minute', Math.round((shownBpm ?? bpm) / unit.beats)),
    ],
    shownBpm === null ? { 'print-object': 'no' } : {},
  );
  const sound = element('sound', [], { tempo: String(rounded(perMinute * unit.quarters, 2)) });
  return direction([metronome], 'above', sound);
}

function direction(type: readonly Element[], placement: 'above' | 'below', sound?: Element): Element {
  return element('direction', [element('direction-type', type), ...(sound ? [sound] : [])], { placement });
}
