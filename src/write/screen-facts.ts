import type { Melody } from '../melody.js';
import type { ScaleCandidate } from '../theory/types.js';
import { rounded, short } from './numbers.js';
import type { Paint } from './types.js';

/** Scales shown under the lines. */
const SCALES_SHOWN = 3;
/** A recording nearer to A4 = 440 Hz than this, in cents, is in tune to the ear (our choice). */
const IN_TUNE_CENTS = 5;

/** Tempo, bar and tuning, a line each; what is not known is left out. */
export function facts(melody: Melody): string[] {
  const { tempo, meter, tuningCents } = melody;
  const cents = Math.round(tuningCents);
  const bar = meter.beatsPerBar === null ? '' : `, ${short(meter.beatsPerBar, 2)} to a bar`;
  const tuning =
    Math.abs(cents) < IN_TUNE_CENTS
      ? 'tuning: in tune with a piano'
      : `tuning: ${Math.abs(cents)} cents ${cents > 0 ? 'higher' : 'lower'} than a piano`;
  return [...(tempo.bpm === null ? [] : [`tempo: ${Math.round(tempo.bpm)} beats a minute${bar}`]), tuning];
}

/** The best scales, each with the notes that it does not hold and those that would decide. */
export function scaleLines(melody: Melody, paint: Paint, width: number): string[] {
  const shown = melody.scales.slice(0, SCALES_SHOWN);
  if (shown.length === 0) return [];
  return [paint.bold('scales'), ...shown.flatMap((scale) => scaleLine(scale, width))];
}

function scaleLine(scale: ScaleCandidate, width: number): string[] {
  const held = scale.outside.length === 0 ? 'holds every note' : `does not hold ${scale.outside.join(', ')}`;
  const deciders = scale.deciders.length === 0 ? '' : `; ${scale.deciders.join(' or ')} would decide`;
  const chance = `${rounded(100 * scale.score, 0)} %`;
  return wrap(`${scale.tonic} ${scale.mode} (${chance}): ${held}${deciders}`, width, '  ', '    ');
}

/** What a beginner should hear once before practising. */
export function caution(width: number): string[] {
  return wrap(
    'Rest often, and stop when it hurts. A teacher’s advice comes first. Hands differ: other fingers may suit you better.',
    width,
    '',
    '',
  );
}

/** Breaks words into lines of at most `width` columns. */
function wrap(text: string, width: number, first: string, next: string): string[] {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of text.split(' ')) {
    if (!empty && line.length + 1 + word.length > width) {
      lines.push(line);
      line = next;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line];
}
