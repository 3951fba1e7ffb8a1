/** What became of every note, once it is known which answers which. */
import { DOUBT } from '../../write/doubtful.js';
import { isOther } from './costs.js';
import { hiddenSeconds } from './dips.js';
import type { Found } from './find.js';
import { type Answer, type NoteTime, timesOf } from './timing.js';
import type { NoteVerdict, Side, SideNote, Verdict } from './types.js';

/**
 * Late or early beyond these seconds (0.1 s is what MIREX 2020 allows the onsets of singing) and this share of the
 * shorter step to a neighbour. This share, and what else is allowed, were chosen on half a of the attempts of
 * `npm run evaluate -- DIR --only compare`.
 */
const TIMELY_SECONDS = 0.1;
const TIMELY_SHARE = 0.15;
/** So many times the spread of what the notes around let expect is allowed too. */
const TIMELY_SPREADS = 1;
/** And these seconds where one of the two was heard. */
const HEARD_SECONDS = 0.04;
/** Held short: less than this share of the written length, and this many seconds less (our choice). */
const SHORT_SHARE = 0.4;
const SHORT_SECONDS = 0.2;

/**
 * In the attempt's order, what was missed at its place in the target; numbers from 1.
 *
 * @param dips for each note of the attempt, whether it is a dip
 */
export function judge(target: Side, attempt: Side, dips: readonly boolean[], found: Found): NoteVerdict[] {
  const { answers, jumped, pace, transposition } = found;
  const last = new Map<number, number>();
  answers.forEach((i, j) => {
    if (i >= 0) last.set(i, j);
  });
  const all: Answer[] = [...answers.keys()]
    .filter((j) => answers[j]! >= 0)
    .map((j) => ({ target: answers[j]!, attempt: j, jumped: jumped[j]! }));
  const times = timesOf(target.notes, attempt.notes, all, pace ?? 1);
  const timeOf = new Map<number, NoteTime>();
  const played = new Set<number>();
  all.forEach(({ attempt: j }, k) => {
    // A note comes late behind a dip that hid its beginning; one that comes in time does not belong to the dip.
    const time = times[k]!;
    const hidden = hiddenSeconds(attempt.notes, dips, answers, j);
    const isHidden = Math.abs(time.late - hidden) <= Math.abs(time.late);
    timeOf.set(j, isHidden ? { ...time, late: time.late - hidden } : time);
    if (hidden > 0 && !isHidden) played.add(j - 1);
  });

  let isBrokenOff = false;
  const verdicts: NoteVerdict[] = attempt.notes.map((_, j) => {
    const i = answers[j]!;
    // Extra notes within a try that broke off, and the one at which it broke off, belong to it.
    if (i < 0 && isBrokenOff) return { ...NOTHING, attempt: j + 1, verdict: 'restart' };
    if (i < 0 && dips[j] && !played.has(j)) return { ...NOTHING, attempt: j + 1, verdict: 'unsure' };
    if (i < 0) return unanswering(attempt, j);
    isBrokenOff = last.get(i) !== j;
    if (isBrokenOff) return { ...NOTHING, attempt: j + 1, verdict: 'restart', tried: i + 1 };
    return answered(target, attempt, { i, j, transposition, time: timeOf.get(j)!, isDip: dips[j]! });
  });
  return withMissed(verdicts, target, attempt, { last, timeOf });
}

/** A verdict with nothing said yet. */
const NOTHING = {
  target: null,
  attempt: null,
  tried: null,
  semitones: 0,
  cents: 0,
  seconds: 0,
  probable: false,
  sung: null,
} as const;

/** Extra; but what was heard and is as unsure as the notes that the screen marks was perhaps never played. */
function unanswering(attempt: Side, j: number): NoteVerdict {
  const doubtful = attempt.heard && attempt.notes[j]!.confidence < DOUBT;
  return { ...NOTHING, attempt: j + 1, verdict: doubtful ? 'unsure' : 'extra' };
}

interface Pair {
  readonly i: number;
  readonly j: number;
  readonly transposition: number;
  readonly time: NoteTime;
  readonly isDip: boolean;
}

function answered(target: Side, attempt: Side, pair: Pair): NoteVerdict {
  const { i, j, transposition, time } = pair;
  const [wanted, played] = [target.notes[i]!, attempt.notes[j]!];
  const off = played.midi - wanted.midi - transposition;
  const sung = attempt.heard
    ? 100 * (played.pitch - wanted.midi - transposition) - attempt.tuningCents
    : null;
  const probable = off !== 0 && isDoubted(target, attempt, pair, off);
  const seconds = time.late + time.pause;
  const base = { target: i + 1, attempt: j + 1, tried: null, seconds, probable, sung };
  if (off !== 0 && !probable) {
    const cents = sung !== null && Math.sign(sung) === Math.sign(off) ? sung : 100 * off;
    return { ...base, verdict: off > 0 ? 'too high' : 'too low', semitones: off, cents };
  }
  return { ...base, verdict: timingOf(target, attempt, i, j, time), semitones: 0, cents: 0 };
}

/** Whether a key that looks wrong may be misheard, in the attempt or in the target. */
function isDoubted(target: Side, attempt: Side, { i, j, transposition, isDip }: Pair, off: number): boolean {
  const [wanted, played] = [target.notes[i]!, attempt.notes[j]!];
  if (isDip || isOther(played, wanted, transposition)) return true;
  const unsure = (attempt.heard && played.confidence < DOUBT) || (target.heard && wanted.confidence < DOUBT);
  return unsure && off % 12 === 0;
}

function timingOf(
  target: Side,
  attempt: Side,
  i: number,
  j: number,
  { late, pause, pace, spread }: NoteTime,
): Verdict {
  const wanted = target.notes[i]!;
  const startsLine = i === 0 || wanted.line !== target.notes[i - 1]!.line;
  // Whoever waits between two lines takes breath; within a line the note is late.
  if (pause > 0 && !startsLine) return 'late';
  const step = pace * nearestStep(target.notes, i);
  const heard = target.heard || attempt.heard ? HEARD_SECONDS : 0;
  const allowed = TIMELY_SECONDS + TIMELY_SHARE * step + TIMELY_SPREADS * spread + heard;
  if (Math.abs(late) > allowed) return late > 0 ? 'late' : 'early';
  const length = pace * (wanted.end - wanted.start);
  const held = attempt.notes[j]!.end - attempt.notes[j]!.start;
  return held < SHORT_SHARE * length && length - held > SHORT_SECONDS ? 'short' : 'right';
}

/** Seconds to the nearer neighbour's start. */
function nearestStep(notes: readonly SideNote[], i: number): number {
  const here = notes[i]!.start;
  const before = i > 0 ? here - notes[i - 1]!.start : Number.POSITIVE_INFINITY;
  const after = i + 1 < notes.length ? notes[i + 1]!.start - here : Number.POSITIVE_INFINITY;
  const nearest = Math.min(before, after);
  return Number.isFinite(nearest) ? nearest : notes[i]!.end - here;
}

interface Known {
  /** Index of the target → index of the attempt's note that answers it last. */
  readonly last: ReadonlyMap<number, number>;
  readonly timeOf: ReadonlyMap<number, NoteTime>;
}

/** Puts each missed note behind the verdict of the note before it. */
function withMissed(
  verdicts: readonly NoteVerdict[],
  target: Side,
  attempt: Side,
  known: Known,
): NoteVerdict[] {
  const missed = [...target.notes.keys()].filter((i) => !known.last.has(i));
  const behind = new Map<number, NoteVerdict[]>();
  for (const i of missed) {
    let before = i;
    while (before >= 0 && !known.last.has(before)) before--;
    const at = before < 0 ? -1 : known.last.get(before)!;
    behind.set(at, [...(behind.get(at) ?? []), missedNote(target, attempt, i, known)]);
  }
  return [
    ...(behind.get(-1) ?? []),
    ...verdicts.flatMap((verdict, j) => [verdict, ...(behind.get(j) ?? [])]),
  ];
}

/** Share of a note's length that the one before must last past its expected start to hold it too. */
const HOLDS_SHARE = 0.5;

/** Missed; but a repeated key that is heard as one long note was probably struck twice. */
function missedNote(target: Side, attempt: Side, i: number, { last, timeOf }: Known): NoteVerdict {
  const j = last.get(i - 1);
  const [wanted, before] = [target.notes[i]!, target.notes[i - 1]];
  const missed: NoteVerdict = { ...NOTHING, target: i + 1, verdict: 'missed' };
  if (!attempt.heard || j === undefined || before === undefined || before.midi !== wanted.midi) return missed;
  const played = attempt.notes[j]!;
  const { pace } = timeOf.get(j)!;
  const held = wanted.start + HOLDS_SHARE * (wanted.end - wanted.start) - before.start;
  if (played.end - played.start < pace * held) return missed;
  return { ...missed, attempt: j + 1, verdict: 'right', probable: true };
}
