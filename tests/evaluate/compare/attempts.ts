/** Attempts at a song with known mistakes. */
import type { Random } from '../../../fixtures/maker/random.js';
import type { Song } from './songs.js';

/** A note of an attempt, and what it is. */
export interface PlayedNote {
  readonly start: number;
  readonly end: number;
  readonly midi: number;
  /** Index of the target's note that it answers; null for an extra one. */
  readonly of: number | null;
  /** Semitones off, after the transposition. */
  readonly off: number;
  /** Belongs to a try that broke off. */
  readonly isRestart: boolean;
  /** Right, but so many seconds of the target's time late, or early when negative; 0: in time. */
  readonly moved: number;
}

export interface Attempt {
  readonly song: Song;
  /** No mistakes, but another key, tempo and rubato. */
  readonly clean: boolean;
  readonly transposition: number;
  /** Tempo over that of the target. */
  readonly tempoRatio: number;
  readonly notes: readonly PlayedNote[];
  /** Indices of the target. */
  readonly missed: readonly number[];
  /** A line that lies a step off, by its indices of the target; null where there is none. */
  readonly shifted: readonly number[] | null;
}

/** A quarter of the attempts is clean; of the rest, a note is … with these probabilities. */
const CLEAN = 0.25;
const WRONG = 0.06;
const MISSED = 0.03;
const EXTRA = 0.03;
/** Late or early by this share of the step on the other side, where that is at least so long in seconds. */
const MOVED = 0.03;
const MOVED_SHARE = 0.5;
const MOVED_STEP_SECONDS = 0.45;
const RESTART = 0.4;
const SHIFTED_LINE = 0.1;
const TEMPO = { from: 0.6, to: 1.5 } as const;
/** Rubato, in half of the attempts: the tempo swings by up to this share in these seconds. */
const RUBATO = 0.15;
const RUBATO_SECONDS = { from: 4, to: 10 } as const;
const JITTER_SECONDS = 0.02;
/** Keys in which a piano plays. */
const LOWEST = 36;
const HIGHEST = 88;
/** Where a mistake takes time: an extra note, a pause before going back. */
const EXTRA_SHARE = 0.5;
const PAUSE_SECONDS = { from: 0.4, to: 2 } as const;
const BACK = { fewest: 2, most: 5 } as const;

interface Draft {
  /** Seconds in the target's time. */
  start: number;
  end: number;
  midi: number;
  of: number | null;
  off: number;
  isRestart: boolean;
  moved: number;
}

export function attemptAt(song: Song, random: Random): Attempt {
  const clean = random.chance(CLEAN);
  const { notes } = song.target;
  const tempoRatio = random.between(TEMPO.from, TEMPO.to);
  const transposition = transpositionFor(song, random);
  const shifted = !clean && random.chance(SHIFTED_LINE) ? shiftedLine(song, random) : null;
  const step = random.pick([-2, -1, 1, 2]);
  const missed: number[] = [];
  let drafts: Draft[] = [];
  let later = 0;
  notes.forEach((note, of) => {
    const before = drafts.at(-1)?.midi;
    const isMiddle = of > 0 && of < notes.length - 1;
    const afterExtra = drafts.at(-2)?.of === null;
    let off = 0;
    if (shifted !== null) off = shifted.includes(of) ? step : 0;
    else if (!clean && random.chance(WRONG)) off = random.pick([-4, -3, -2, -1, 1, 2, 3, 4]);
    // A note missed beside an extra one is a wrong note.
    else if (!clean && isMiddle && drafts.at(-1)?.of === of - 1 && !afterExtra && random.chance(MISSED)) {
      missed.push(of);
      // A third leave out the time of the note as well.
      if (random.chance(1 / 3)) later -= notes[of + 1]!.start - note.start;
      return;
    } else if (
      !clean &&
      isMiddle &&
      before !== undefined &&
      missed.at(-1) !== of - 1 &&
      random.chance(EXTRA)
    ) {
      const step = note.start - notes[of - 1]!.start;
      const keys = [-4, -3, -2, -1, 1, 2, 3, 4].map((by) => note.midi + by).filter((key) => key !== before);
      const takesTime = random.chance(1 / 2);
      const length = EXTRA_SHARE * step;
      const start = note.start + later - (takesTime ? 0 : length);
      const last = drafts.at(-1)!;
      last.end = Math.min(last.end, start);
      drafts.push({
        start,
        end: start + length,
        midi: random.pick(keys),
        of: null,
        off: 0,
        isRestart: false,
        moved: 0,
      });
      if (takesTime) later += length;
    }
    const moved = !clean && off === 0 && isMiddle && random.chance(MOVED) ? movedBy(song, of, random) : 0;
    const [start, end] = [note.start + later + moved, note.end + later];
    drafts.push({ start, end, midi: note.midi + off, of, off, isRestart: false, moved });
  });
  if (!clean && random.chance(RESTART)) drafts = withRestart(drafts, random);
  return {
    song,
    clean,
    transposition,
    tempoRatio,
    missed,
    shifted,
    notes: played(drafts, tempoRatio, transposition, random),
  };
}

function movedBy({ target: { notes } }: Song, of: number, random: Random): number {
  const late = random.chance(0.5);
  const step = late ? notes[of + 1]!.start - notes[of]!.start : notes[of]!.start - notes[of - 1]!.start;
  if (step < MOVED_STEP_SECONDS) return 0;
  return (late ? MOVED_SHARE : -MOVED_SHARE) * Math.min(1, step);
}

function transpositionFor({ target: { notes } }: Song, random: Random): number {
  const by = random.chance(0.3)
    ? 0
    : random.chance(0.15)
      ? random.pick([-12, 12])
      : random.pick([-7, -6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6, 7]);
  const keys = notes.map((note) => note.midi + by);
  // Another octave where a piano, or the hearing of one, would come to its end.
  if (Math.min(...keys) - 4 < LOWEST) return by + 12;
  return Math.max(...keys) + 4 > HIGHEST ? by - 12 : by;
}

/** Most of one line, where the song has two and the line is not nearly all of it. */
function shiftedLine({ target: { notes } }: Song, random: Random): number[] | null {
  const lines = [...new Set(notes.map((note) => note.line))]
    .map((line) => [...notes.keys()].filter((i) => notes[i]!.line === line))
    .filter((line) => line.length >= 4 && line.length <= 0.4 * notes.length);
  return lines.length === 0 ? null : random.pick(lines);
}

/** Breaks off after a note, waits, and plays again from a few notes before. */
function withRestart(drafts: readonly Draft[], random: Random): Draft[] {
  const breaks = Math.floor(random.between(BACK.most + 1, drafts.length - 1));
  const back = Math.floor(random.between(BACK.fewest, BACK.most + 1));
  const again = breaks - back + 1;
  const [from, last] = [drafts[again], drafts[breaks]];
  if (from === undefined || last === undefined || from.of === null || last.of === null) return [...drafts];
  const wait = last.end - from.start + random.between(PAUSE_SECONDS.from, PAUSE_SECONDS.to);
  return [
    ...drafts.slice(0, breaks + 1).map((note, n) => ({ ...note, isRestart: n >= again })),
    ...drafts.slice(again).map((note) => ({ ...note, start: note.start + wait, end: note.end + wait })),
  ];
}

function played(
  drafts: readonly Draft[],
  tempoRatio: number,
  transposition: number,
  random: Random,
): PlayedNote[] {
  const period = random.between(RUBATO_SECONDS.from, RUBATO_SECONDS.to);
  const swing = random.chance(0.5) ? RUBATO : 0;
  const phase = random.between(0, 2 * Math.PI);
  const clock = (time: number) =>
    time + ((swing * period) / (2 * Math.PI)) * Math.sin((2 * Math.PI * time) / period + phase);
  const first = drafts[0]!.start / tempoRatio;
  let before = Number.NEGATIVE_INFINITY;
  return drafts.map(({ start, end, midi, ...rest }, n) => {
    const onset = Math.max(
      before + 0.03,
      1 + clock(start / tempoRatio - first) + JITTER_SECONDS * random.gauss(),
    );
    before = onset;
    const next = drafts[n + 1];
    const until = next === undefined ? end : Math.min(end, next.start);
    const length = Math.max(0.06, (until - start) / tempoRatio);
    return { ...rest, start: onset, end: onset + length, midi: midi + transposition };
  });
}
