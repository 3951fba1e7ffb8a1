/** What makes a line hard, counted. */
import type { Melody } from '../../melody.js';
import { isBlack } from '../keyboard.js';
import type { Feature } from './types.js';

/** What a grade is worked out from. */
export type GradedMelody = Pick<Melody, 'lines' | 'meter' | 'hand'> & {
  readonly notes: readonly Pick<
    Melody['notes'][number],
    'start' | 'end' | 'midi' | 'confidence' | 'line' | 'beat' | 'beats'
  >[];
};

type Note = GradedMelody['notes'][number];

export type Counted = Readonly<Record<Feature, number | null>>;

/** Semitones of a fourth: the hand leaves its five keys. */
const LEAP = 5;
/** Beats are counted to a thousandth where they were read. */
const BEAT_TOLERANCE = 0.01;

/**
 * Counts over the notes; rates are over the time of the lines, without the rests between them. `melody` has at least
 * one note, and each note's `line` is the number of one of its lines.
 */
export function featuresOf(melody: GradedMelody): Counted {
  const { notes, lines, hand } = melody;
  // A key that is likelier wrong than right would make a line look harder than it is.
  const sure = notes.filter((note) => note.confidence >= 0.5);
  const midis = (sure.length > 0 ? sure : notes).map((note) => note.midi);
  const seconds = lines.reduce((sum, line) => sum + line.end - line.start, 0);
  const steps: number[] = [];
  for (let i = 1; i < notes.length; i++) {
    const [before, note] = [notes[i - 1]!, notes[i]!];
    if (note.line === before.line) steps.push(Math.abs(note.midi - before.midi));
  }
  const lineStarts = new Set(lines.map((line) => line.first));
  const moves = hand?.slice(1).filter(({ first }) => !lineStarts.has(first));
  const repeated = lines.filter((line) => line.like !== null);
  return {
    'different notes': new Set(midis).size,
    'commonest note': commonestShare(midis),
    'note changes': countOf(steps, isMove) / seconds,
    'short notes': shortLength(notes),
    range: Math.max(...midis) - Math.min(...midis),
    leaps: shareOf(steps, isLeap),
    'hand moves': moves === undefined ? null : (60 * moves.length) / seconds,
    'black keys': shareOf(notes, isOnBlack),
    ...rhythmOf(melody),
    'notes to learn': notes.length - repeated.reduce((sum, line) => sum + line.last - line.first + 1, 0),
  };
}

function shareOf<T>(items: readonly T[], wanted: (item: T) => boolean): number {
  return items.length === 0 ? 0 : countOf(items, wanted) / items.length;
}

function countOf<T>(items: readonly T[], wanted: (item: T) => boolean): number {
  let count = 0;
  for (const item of items) if (wanted(item)) count++;
  return count;
}

const isMove = (step: number) => step > 0;
const isLeap = (step: number) => step >= LEAP;
const isOnBlack = ({ midi }: Note) => isBlack(midi);

function commonestShare(midis: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const midi of midis) counts.set(midi, (counts.get(midi) ?? 0) + 1);
  return Math.max(...counts.values()) / midis.length;
}

/** Seconds that a quarter of the notes do not exceed, a note lasting until the next of its line begins. */
function shortLength(notes: readonly Note[]): number {
  const lengths: number[] = [];
  for (const [i, note] of notes.entries()) {
    const next = notes[i + 1];
    lengths.push((next?.line === note.line ? next.start : note.end) - note.start);
  }
  return lengths.sort((a, b) => a - b)[Math.ceil(lengths.length / 4) - 1]!;
}

/**
 * Shares of the notes that begin off the eighths, and of those that begin off the beat and are held over the next one
 * (in 3/8, 6/8, 9/8 the beat that is felt, three eighths).
 */
function rhythmOf({ notes, meter }: GradedMelody): Pick<Counted, 'fine rhythm' | 'syncopation'> {
  const inEighths = meter.beatUnit === 8;
  const eighth = inEighths ? 1 : 0.5;
  const felt = inEighths && meter.beatsPerBar! % 3 === 0 ? 3 : 1;
  let [placed, fine, syncopated] = [0, 0, 0];
  for (const { beat, beats } of notes) {
    if (beat === null || beats === null) continue;
    placed++;
    if (after(beat, eighth) > 0) fine++;
    const rest = after(beat, felt);
    if (rest > 0 && rest + beats > felt + BEAT_TOLERANCE) syncopated++;
  }
  if (placed === 0) return { 'fine rhythm': null, syncopation: null };
  return { 'fine rhythm': fine / placed, syncopation: syncopated / placed };
}

/** Beats from the last line of a grid to a place, 0 where it lies on one. */
function after(beat: number, grid: number): number {
  const rest = (beat - 1) % grid;
  return Math.min(rest, grid - rest) < BEAT_TOLERANCE ? 0 : rest;
}
