import type { Melody } from '../../melody.js';
import type { NameSystem } from '../../theory/name-systems.js';
import { keyNameIn, type Naming, nameIn } from '../../theory/naming.js';
import type { NamedNotes, RankedScale } from '../../theory/types.js';
import { FINGER_CAUTION } from '../caution.js';
import { listed } from '../listed.js';
import { rounded } from '../numbers.js';
import { isSteady } from '../steadiness.js';
import type { Paint } from '../types.js';
import { gradeWords } from './grade-words.js';
import { wrap } from './wrap.js';

/** Scales shown under the lines. */
const SCALES_SHOWN = 3;
/** A recording nearer to A4 = 440 Hz than this, in cents, is in tune to the ear (our choice). */
const IN_TUNE_CENTS = 5;

/** Tempo with the time signature, and tuning, a line each. */
export function facts(melody: Melody): string[] {
  const cents = Math.round(melody.tuningCents);
  const tuning =
    Math.abs(cents) < IN_TUNE_CENTS
      ? 'tuning: in tune with a piano'
      : `tuning: ${Math.abs(cents)} cents ${cents > 0 ? 'higher' : 'lower'} than a piano`;
  return [tempoLine(melody), tuning];
}

/** Where a beat is written as an eighth, eighths are what is counted, as `--bpm` counts them. */
function tempoLine({ tempo: { bpm, beats }, meter: { beatsPerBar, beatUnit } }: Melody): string {
  if (bpm === null) return 'no steady beat was heard: lengths are in seconds';
  const about = isSteady(beats, bpm) ? '' : 'about ';
  const signature = beatsPerBar === null ? '' : `, ${beatsPerBar}/${beatUnit ?? 4}`;
  return `tempo: ${about}${Math.round(bpm)} ${beatUnit === 8 ? 'eighths' : 'beats'} a minute${signature}`;
}

/** The best scales, each with the notes that it does not hold, and with those that would decide and whether they are sung. */
export function scaleLines(melody: Melody, paint: Paint, width: number, names: NameSystem): string[] {
  const shown = melody.scales.slice(0, SCALES_SHOWN);
  if (shown.length === 0) return [];
  return [paint.bold('scales'), ...shown.flatMap((scale) => scaleLine(scale, melody, width, names))];
}

function scaleLine(scale: RankedScale, melody: Melody, width: number, system: NameSystem): string[] {
  // Degrees count from each scale's own tonic.
  const naming: Naming = system === 'degrees' ? { system, home: { ...scale, octave: 4 } } : { system };
  const outside = scale.outsideAt.map(
    ({ name, numbers }) => `${nameIn(name, naming)} (${firstPlace(numbers, melody)})`,
  );
  const held = outside.length === 0 ? 'holds every note' : `does not hold ${outside.join(', ')}`;
  const chance = `${rounded(100 * scale.score, 0)} %`;
  const text = `${keyNameIn(scale, system)} (${chance}): ${[held, ...againstRival(scale, naming)].join('; ')}`;
  return wrap(text, width, '  ', '    ');
}

/** What the deciders say: those that are sung speak for one of the two scales, the others would. */
function againstRival({ notes, decidersAt, rival }: RankedScale, naming: Naming): string[] {
  if (rival === null) return [];
  const other = keyNameIn(rival, naming.system);
  const named = (wanted: (decider: NamedNotes) => boolean) =>
    decidersAt.filter(wanted).map(({ name }) => nameIn(name, naming));
  const isSung = ({ numbers }: NamedNotes) => numbers.length > 0;
  const own = named((decider) => isSung(decider) && notes.includes(decider.name));
  const others = named((decider) => isSung(decider) && !notes.includes(decider.name));
  const unsung = named((decider) => !isSung(decider));
  const speak = (names: readonly string[]) => `${listed(names, 'and')} speak${names.length === 1 ? 's' : ''}`;
  return [
    ...(own.length === 0 ? [] : [`${speak(own)} for it, not for ${other}`]),
    ...(others.length === 0 ? [] : [`${speak(others)} for ${other}`]),
    ...(unsung.length === 0 ? [] : [`${listed(unsung, 'or')}, not sung, would tell it from ${other}`]),
  ];
}

/** Where a note is sung first, as the blocks over the scales count, and how often later. */
function firstPlace(numbers: readonly number[], { notes }: Melody): string {
  const index = numbers[0]! - 1;
  const { line } = notes[index]!;
  const inLine = index - notes.findIndex((note) => note.line === line) + 1;
  const more = numbers.length === 1 ? '' : ` and ${numbers.length - 1} more`;
  return `line ${line} note ${inLine}${more}`;
}

/** Reasons shown of a grade. */
const REASONS_SHOWN = 2;

/** How hard the melody is for a beginner, and what adds most to that. */
export function gradeLines({ grade }: Melody, width: number): string[] {
  const reasons = grade.reasons.slice(0, REASONS_SHOWN);
  const why = reasons.length === 0 ? '' : `: ${reasons.join('; ')}`;
  return wrap(`${gradeWords(grade)} for a beginner${why}`, width, '', '  ');
}

/** What a beginner should hear once before practising. */
export function caution(width: number): string[] {
  return wrap(FINGER_CAUTION, width, '', '');
}
