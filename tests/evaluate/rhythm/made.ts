/**
 * Beats and note values of a melody against a recording that was made from a score.
 *
 * Tempo: within 3 %, octave errors are errors. Metre: beats a bar. Beats: F-measure within 70 ms (the beats of the
 * truth from the first note's to the last's, and those found in that time; MIREX beat tracking, as in
 * mir_eval.beat, without its 5 s of trimming). Start and length: of the notes found (onset within 50 ms, pitch
 * within 50 cents), those written at the right beat, but for one whole number of beats a piece, and those whose
 * written length in beats is right. Bar line: the metre is right and the first downbeat lies within a quarter of a beat
 * of one of the tune as it is printed.
 */
import type { Beats, Place } from '../../../src/rhythm/types.js';
import { WITH_PICKUP } from '../lines/made-tunes.js';
import { maximumMatching } from '../matching.js';
import { matchNotes, type ScoredNote } from '../note-scores.js';

export interface RhythmTruth {
  readonly tune: string;
  readonly bpm: number;
  readonly beatsPerBar: number;
  /** Seconds of beat 0. */
  readonly firstBeat: number;
  readonly notes: readonly {
    readonly on: number;
    readonly off: number;
    readonly midi: number;
    readonly beat: number;
    readonly beats: number;
  }[];
}

export interface MadeRhythmRow {
  readonly name: string;
  readonly bpm: number | null;
  readonly trueBpm: number;
  readonly tempoRight: boolean;
  readonly beatsPerBar: number | null;
  readonly metreRight: boolean;
  readonly barLineRight: boolean;
  readonly beatF: number;
  /** Correctly found notes, and how many of them are written right. */
  readonly found: number;
  readonly startRight: number;
  readonly lengthRight: number;
  readonly bothRight: number;
}

const TEMPO_SHARE = 0.03;
const BEAT_SECONDS = 0.07;
/** Beats that a first downbeat may be off. */
const DOWNBEAT_BEATS = 0.25;
/** The rendered tune loses a beat after its second line, so that its bars begin on beat 1 and then on beat 0. */
const LOSES_A_BEAT = 'amazing-grace';
/** Written values this near, in beats, are the same. */
const SAME_BEATS = 1e-3;

type PlacedNote = ScoredNote & Place;

export function madeRhythmRow(
  name: string,
  notes: readonly PlacedNote[],
  beats: Beats | null,
  truth: RhythmTruth,
): MadeRhythmRow {
  const bpm =
    beats === null ? null : (60 * (beats.seconds.length - 1)) / (beats.seconds.at(-1)! - beats.seconds[0]!);
  const reference = truth.notes.map((note) => ({ start: note.on, end: note.off, pitch: note.midi }));
  const found = matchNotes(reference, notes, 'onset+pitch').map((pair) => {
    const heard = notes[pair.estimate]!;
    const true_ = truth.notes[pair.reference]!;
    const start = beats === null ? Number.NaN : (heard.bar! - 1) * beats.beatsPerBar + heard.beat! - 1;
    return {
      shift: start - true_.beat,
      isLengthRight: heard.beats !== null && Math.abs(heard.beats - true_.beats) < SAME_BEATS,
    };
  });
  const shift = commonShift(found.map((note) => note.shift));
  const isStartRight = (note: { shift: number }) => Math.abs(note.shift - shift) < SAME_BEATS;
  return {
    name,
    bpm,
    trueBpm: truth.bpm,
    tempoRight: bpm !== null && Math.abs(bpm / truth.bpm - 1) <= TEMPO_SHARE,
    beatsPerBar: beats?.beatsPerBar ?? null,
    metreRight: beats?.beatsPerBar === truth.beatsPerBar,
    barLineRight: beats?.beatsPerBar === truth.beatsPerBar && isOnBarLine(beats, truth),
    beatF: beats === null ? 0 : beatF(beats.seconds, truth),
    found: found.length,
    startRight: found.filter(isStartRight).length,
    lengthRight: found.filter((note) => note.isLengthRight).length,
    bothRight: found.filter((note) => isStartRight(note) && note.isLengthRight).length,
  };
}

function isOnBarLine({ seconds, firstDownbeat }: Beats, truth: RhythmTruth): boolean {
  const { tune, beatsPerBar } = truth;
  const beat = ((seconds[firstDownbeat]! - truth.firstBeat) * truth.bpm) / 60;
  const downbeats = tune === LOSES_A_BEAT ? [0, 1] : [WITH_PICKUP.includes(tune) ? 1 : 0];
  return downbeats.some((downbeat) => {
    const bars = (beat - downbeat) / beatsPerBar;
    return Math.abs(bars - Math.round(bars)) * beatsPerBar <= DOWNBEAT_BEATS;
  });
}

/** The whole number of beats by which most notes are off. */
function commonShift(shifts: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const shift of shifts) {
    const whole = Math.round(shift);
    if (Math.abs(shift - whole) < SAME_BEATS) counts.set(whole, (counts.get(whole) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? Number.NaN;
}

function beatF(seconds: readonly number[], truth: RhythmTruth): number {
  const last = truth.notes.at(-1)!;
  const count = Math.ceil(last.beat + last.beats);
  const reference = Array.from({ length: count }, (_, i) => truth.firstBeat + (i * 60) / truth.bpm);
  const until = reference.at(-1)! + BEAT_SECONDS;
  const estimate = seconds.filter((s) => s >= truth.firstBeat - BEAT_SECONDS && s <= until);
  const candidates = reference.map((r) =>
    estimate.flatMap((e, i) => (Math.abs(e - r) <= BEAT_SECONDS ? [i] : [])),
  );
  const matched = maximumMatching(candidates, estimate.length).length;
  return (2 * matched) / (reference.length + estimate.length);
}

/** Table of rows with a line of totals. */
export function madeRhythmText(rows: readonly MadeRhythmRow[]): string {
  const sum = (of: (row: MadeRhythmRow) => number) => rows.reduce((total, row) => total + of(row), 0);
  const found = sum((row) => row.found);
  const share = (part: number, whole: number) =>
    whole === 0 ? '-' : `${((100 * part) / whole).toFixed(1)} %`;
  const lines = [
    ['rhythm', 'tempo', 'true', 'bar', 'bar line', 'beat F', 'start', 'length', 'both'],
    ...rows.map((row) => [
      row.name,
      row.bpm?.toFixed(1) ?? 'none',
      String(row.trueBpm),
      `${row.beatsPerBar ?? '-'}${row.metreRight ? '' : ' wrong'}`,
      row.barLineRight ? 'right' : 'wrong',
      row.beatF.toFixed(3),
      share(row.startRight, row.found),
      share(row.lengthRight, row.found),
      share(row.bothRight, row.found),
    ]),
    [
      'all',
      `${rows.filter((row) => row.tempoRight).length} right`,
      `of ${rows.length}`,
      `${rows.filter((row) => row.metreRight).length} right`,
      `${rows.filter((row) => row.barLineRight).length} right`,
      (sum((row) => row.beatF) / rows.length).toFixed(3),
      share(
        sum((row) => row.startRight),
        found,
      ),
      share(
        sum((row) => row.lengthRight),
        found,
      ),
      share(
        sum((row) => row.bothRight),
        found,
      ),
    ],
  ];
  return lines
    .map((line) => line.map((cell, i) => (i === 0 ? cell.padEnd(26) : cell.padStart(10))).join(''))
    .join('\n');
}
