import type { Melody, MelodyNote } from '../../melody.js';
import type { Section } from '../../rhythm/types.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { keyNameIn, type Naming, nameIn } from '../../theory/naming.js';
import { namingOf } from '../naming-of.js';
import { fixed, rounded, short } from '../numbers.js';
import { otherNamer } from '../other-name.js';
import { isSteady } from '../steadiness.js';
import { beatSecondsLines } from './note-list-beats.js';
import { namesLines } from './note-list-names.js';

/** Version of the format in the first line; docs/note-list.md specifies it. */
export const NOTE_LIST_VERSION = 1;

/** The ten columns in order. */
export const COLUMNS = [
  'line',
  'bar',
  'beat',
  'start',
  'length',
  'note',
  'cents',
  'sure',
  'finger',
  'remark',
] as const;

/**
 * The melody as a note list (docs/note-list.md): `#` lines with the facts about the whole recording, then
 * one tab-separated line a note. Starts and ends are rounded to the millisecond and the length is their
 * difference, so that rounding never makes two notes overlap. Ends with a newline.
 *
 * @param names in which system notes are named; a `#` line says so, so that it is read back
 */
export function noteList(melody: Melody, names: NameSystem = 'english'): string {
  const naming = namingOf(melody, names);
  const nameOther = otherNamer(melody, naming);
  const moves = new Map(melody.hand?.map(({ first, thumb }) => [first, thumb]));
  const rows = melody.notes.map((note, i) =>
    [...row(note, melody.tuningCents, naming), remark(note, i + 1, moves.get(i + 1) ?? null, nameOther)].join(
      '\t',
    ),
  );
  return `${[...header(melody, naming), ...rows].join('\n')}\n`;
}

function header(melody: Melody, naming: Naming): string[] {
  const { sections, scales } = melody;
  const best = scales[0];
  return [
    `# cantilena note list ${NOTE_LIST_VERSION}`,
    ...namesLines(naming),
    `# seconds ${fixed(melody.recording.seconds, 3)}`,
    ...sourceLine(melody),
    `# tuning-cents ${fixed(melody.tuningCents, 1)}`,
    ...beatLines(melody),
    ...(sections.length < 2 ? [] : [`# sections ${sections.map(sectionText).join(', ')}`]),
    ...(best ? [`# scale ${keyNameIn(best, naming.system)} ${fixed(best.score, 2)}`] : []),
    `# ${COLUMNS.join('\t')}`,
  ];
}

/** Tempo, bar and downbeat; and the beats, where one tempo does not tell them. */
function beatLines({ tempo: { bpm, beats }, meter }: Melody): string[] {
  const { beatsPerBar, beatUnit, firstDownbeat } = meter;
  // What is read back must be found even, or not, as it was: the beats as they are printed are looked at.
  const printed = beats.map((time) => rounded(time, 3));
  return [
    ...(bpm === null ? [] : [`# tempo-bpm ${short(bpm, 3)}`]),
    ...(beatsPerBar === null ? [] : [`# beats-per-bar ${short(beatsPerBar, 3)}`]),
    ...(beatUnit === 8 ? ['# beat-unit 8'] : []),
    ...(firstDownbeat === null ? [] : [`# first-downbeat ${fixed(firstDownbeat, 3)}`]),
    ...(bpm === null || isSteady(printed, rounded(bpm, 3))
      ? []
      : beatSecondsLines(printed, beatsPerBar ?? 1)),
  ];
}

/** `A 1-2`: letter and lines. */
function sectionText({ letter, first, last }: Section): string {
  return `${letter} ${first}${first === last ? '' : `-${last}`}`;
}

/** `# source solo (one pitch at a time explains the sound)`: the reason is for people, and may be missing. */
function sourceLine({ recording: { heardAs } }: Melody): string[] {
  if (heardAs === null) return [];
  return [`# source ${heardAs.source}${heardAs.why === null ? '' : ` (${heardAs.why})`}`];
}

function row(note: MelodyNote, tuningCents: number, naming: Naming): string[] {
  const startMs = Math.round(note.start * 1000);
  const lengthMs = Math.max(1, Math.round(note.end * 1000) - startMs);
  return [
    String(note.line),
    note.bar === null ? '-' : String(note.bar),
    note.beat === null ? '-' : short(note.beat, 2),
    fixed(startMs / 1000, 3),
    fixed(lengthMs / 1000, 3),
    nameIn(note.name, naming),
    fixed(100 * (note.pitch - note.midi) - tuningCents, 0),
    fixed(note.confidence, 2),
    `${note.finger}${note.fingerFixed ? '!' : ''}`,
  ];
}

/** What a person should know of the note: another likely key, and where the hand lies from here on. */
function remark(
  note: MelodyNote,
  number: number,
  thumb: number | null,
  nameOther: (midi: number) => string,
): string {
  const doubt = note.other === null ? [] : [`or ${nameOther(note.other)}, check by ear`];
  const place = thumb === null ? [] : [`${number === 1 ? '' : 'hand moves: '}thumb on ${nameOther(thumb)}`];
  return [...doubt, ...place].join('; ');
}
