/**
 * Written melodies performed and written down again: the share of notes that come back at their places.
 *
 * A performance has a random tempo (uniform, 60–140 quarters a minute), onsets off by 20 ms (normal, standard
 * deviation; the generator cuts it at 2.5) and lengths cut at random to 50–100 % of what is written. Nothing but
 * its notes is given to the program.
 *
 * A note's position is where it is written to start, in beats from the first bar on. Right: equal to the truth's
 * but for one constant a song, whichever suits most notes, and the tempo of the right octave. In the bar: that
 * constant is a whole number of bars, and the bar has the right number of beats. Octave forgiven: as right, with
 * the written beats halved or doubled (twice, too) where that suits more notes.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Random, seededRandom } from '../../../fixtures/maker/random.js';
import { findBeats } from '../../../src/rhythm/beats/beats.js';
import { placeNotes } from '../../../src/rhythm/places/place.js';

/** A written note: start and length in quarters, and its pitch. */
export interface WrittenNote {
  readonly start: number;
  readonly length: number;
  readonly midi: number;
}

export interface PerformedRow {
  readonly notes: number;
  /** Notes written at all: none where no beat was found. */
  readonly right: number;
  readonly inTheBar: number;
  readonly octaveForgiven: number;
  readonly tempoRight: boolean;
  readonly metreRight: boolean;
}

const TEMPO_BPM = { from: 60, to: 140 } as const;
const JITTER_SECONDS = 0.02;
const SHORTEST_SHARE = 0.5;
/** Written positions this near, in beats, are the same. */
const SAME = 1e-6;
const UNKNOWN = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null } as const;
const BEATS_PER_BAR = 4;

/**
 * The melodies of a file of `{ notes: [MIDI or 0 for a rest, sixteenths][] }`, one a line, in bars of four
 * quarters.
 */
export function writtenMelodies(jsonl: string): WrittenNote[][] {
  return jsonl
    .trim()
    .split('\n')
    .map((line) => {
      const notes: WrittenNote[] = [];
      let at = 0;
      for (const [midi, sixteenths] of (JSON.parse(line) as { notes: [number, number][] }).notes) {
        if (midi > 0) notes.push({ start: at / 4, length: sixteenths / 4, midi });
        at += sixteenths;
      }
      return notes;
    });
}

/** A performance, notes in order of the written ones, and its tempo. */
export function perform(written: readonly WrittenNote[], random: Random) {
  const bpm = random.between(TEMPO_BPM.from, TEMPO_BPM.to);
  const lead = random.between(0.3, 3);
  let before = Number.NEGATIVE_INFINITY;
  const notes = written.map(({ start, length, midi }) => {
    const onset = Math.max(lead + (start * 60) / bpm + JITTER_SECONDS * random.gauss(), before + 0.001);
    before = onset;
    return { start: onset, end: onset + length * (60 / bpm) * random.between(SHORTEST_SHARE, 1), midi };
  });
  return { bpm, notes };
}

/** How much of a performance comes back. */
export function scorePerformed(written: readonly WrittenNote[], random: Random): PerformedRow {
  const { bpm, notes } = perform(written, random);
  const beats = findBeats(notes, UNKNOWN, null);
  const none = { notes: notes.length, right: 0, inTheBar: 0, octaveForgiven: 0 };
  if (beats === null) return { ...none, tempoRight: false, metreRight: false };
  const quarters = 4 / beats.beatUnit;
  const positions = placeNotes(notes, beats).map(
    (place) => ((place.bar! - 1) * beats.beatsPerBar + place.beat! - 1) * quarters,
  );
  const heardBpm = (60 * quarters * (beats.seconds.length - 1)) / (beats.seconds.at(-1)! - beats.seconds[0]!);
  const tempoRight = Math.abs(heardBpm / bpm - 1) < 0.03;
  const metreRight = beats.beatsPerBar === BEATS_PER_BAR && beats.beatUnit === 4;
  const agreeing = (factor: number, step: number) =>
    mostAgreeing(
      written.map((note, i) => note.start - positions[i]! * factor),
      step,
    );
  return {
    notes: notes.length,
    right: agreeing(1, 0),
    inTheBar: metreRight ? agreeing(1, BEATS_PER_BAR) : 0,
    octaveForgiven: Math.max(...[0.25, 0.5, 1, 2, 4].map((factor) => agreeing(factor, 0))),
    tempoRight,
    metreRight,
  };
}

/** How many of the differences are the same; with a step, only multiples of it count. */
function mostAgreeing(differences: readonly number[], step: number): number {
  const counts = new Map<number, number>();
  let most = 0;
  for (const difference of differences) {
    if (step > 0 && Math.abs(difference / step - Math.round(difference / step)) > SAME) continue;
    const key = Math.round(difference / SAME);
    const count = (counts.get(key) ?? 0) + 1;
    counts.set(key, count);
    most = Math.max(most, count);
  }
  return most;
}

/**
 * Table of all melodies under `root`, those the statistics of the metres were counted in (even) apart; null
 * where they are absent.
 */
export function performedReport(root: string): string | null {
  const path = join(root, 'phrases', 'pop909-phrases.jsonl');
  if (!existsSync(path)) return null;
  const rows = writtenMelodies(readFileSync(path, 'utf8')).map((written, i) =>
    scorePerformed(written, seededRandom(i + 1)),
  );
  const lines = [
    ['performed', 'songs', 'right', 'in the bar', 'octave forgiven', 'tempo', 'metre'],
    ...(
      [
        ['odd', (i: number) => i % 2 === 1],
        ['even, counted', (i: number) => i % 2 === 0],
        ['all', () => true],
      ] as const
    ).map(([name, isIn]) => [name, ...cells(rows.filter((_, i) => isIn(i)))]),
  ];
  return lines
    .map((line) => line.map((cell, i) => (i === 0 ? cell.padEnd(14) : cell.padStart(16))).join(''))
    .join('\n');
}

function cells(rows: readonly PerformedRow[]): string[] {
  const total = rows.reduce((sum, row) => sum + row.notes, 0);
  const share = (of: (row: PerformedRow) => number) =>
    percent(rows.reduce((sum, row) => sum + of(row), 0) / total);
  const songs = (is: (row: PerformedRow) => boolean) => percent(rows.filter(is).length / rows.length);
  return [
    String(rows.length),
    share((row) => row.right),
    share((row) => row.inTheBar),
    share((row) => row.octaveForgiven),
    songs((row) => row.tempoRight),
    songs((row) => row.metreRight),
  ];
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
