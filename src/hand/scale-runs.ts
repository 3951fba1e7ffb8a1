/** Finds the scales that a melody runs through, an octave or more, and the fingers that method books give them. */
import { degreeOf, SCALES, type Scale } from './scale-fingers.js';
import type { Finger, Stroke } from './types.js';

/** Fewest notes of a run: an octave. */
const FEWEST = 8;
/** Widest step of a scale, in semitones: that of the harmonic minor. */
const WIDEST_STEP = 3;

/** A stretch of notes up or down a scale. */
interface Run {
  readonly scale: Scale;
  readonly first: number;
  /** The last note, included. */
  readonly last: number;
  readonly up: boolean;
}

/**
 * The finger of every note by the handbook, null where it is in no run or the handbook leaves it open. A run in which
 * a finger is settled otherwise is left to the search.
 */
export function scaleRunFingers(
  strokes: readonly Stroke[],
  settled: readonly (Finger | null)[] = [],
): (Finger | null)[] {
  const fingers: (Finger | null)[] = strokes.map(() => null);
  if (!hasLongWay(strokes)) return fingers;
  const runs = SCALES.flatMap((scale) => runsOf(strokes, scale));
  const taken: Run[] = [];
  for (const run of runs.sort((a, b) => rank(strokes, b) - rank(strokes, a))) {
    // Runs that turn share the note on which they do.
    if (taken.some((other) => run.first < other.last && other.first < run.last)) continue;
    taken.push(run);
    const own = fingersOf(strokes, run);
    if (own.some((finger, k) => finger !== null && (settled[run.first + k] ?? finger) !== finger)) continue;
    own.forEach((finger, k) => {
      fingers[run.first + k] ??= finger;
    });
  }
  return fingers;
}

/** Whether there are enough notes by step in one direction for a run of any scale: most melodies have none. */
function hasLongWay(strokes: readonly Stroke[]): boolean {
  let count = 1;
  let way = 0;
  return strokes.some((stroke, i) => {
    const step = i === 0 ? 0 : stroke.midi - strokes[i - 1]!.midi;
    const isStep = step !== 0 && Math.abs(step) <= WIDEST_STEP && !stroke.afterRest;
    count = isStep ? (Math.sign(step) === way ? count + 1 : 2) : 1;
    way = isStep ? Math.sign(step) : 0;
    return count >= FEWEST;
  });
}

/** Longer runs first; of the same length those that begin or end on the tonic; then in the order of SCALES. */
function rank(strokes: readonly Stroke[], { scale, first, last }: Run): number {
  const onTonic = [first, last].filter((i) => degreeOf(scale, strokes[i]!.midi) === 0).length;
  return last - first + onTonic / 4;
}

function runsOf(strokes: readonly Stroke[], scale: Scale): Run[] {
  const degrees = strokes.map((stroke) => degreeOf(scale, stroke.midi));
  /** 1 up a degree, −1 down, 0 anything else. */
  const step = (i: number): number => {
    const [from, to] = [degrees[i - 1] ?? -1, degrees[i] ?? -1];
    if (from < 0 || to < 0 || strokes[i]!.afterRest) return 0;
    const far = strokes[i]!.midi - strokes[i - 1]!.midi;
    if (Math.abs(far) > WIDEST_STEP) return 0;
    return (from + 1) % 7 === to && far > 0 ? 1 : (to + 1) % 7 === from && far < 0 ? -1 : 0;
  };
  const runs: Run[] = [];
  let first = 0;
  let way = 0;
  for (let i = 1; i <= strokes.length; i++) {
    const next = i < strokes.length ? step(i) : 0;
    if (next === way && next !== 0) continue;
    if (way !== 0 && i - first >= FEWEST) runs.push({ scale, first, last: i - 1, up: way > 0 });
    first = i - 1;
    way = next;
  }
  return runs;
}

/** Fingers of a run, in its order. Before the first thumb they are given only where the run begins on the tonic. */
function fingersOf(strokes: readonly Stroke[], { scale, first, last, up }: Run): (Finger | null)[] {
  const rising = Array.from({ length: last - first + 1 }, (_, k) => (up ? first + k : last - k));
  const degrees = rising.map((i) => degreeOf(scale, strokes[i]!.midi));
  const fingers: (Finger | null)[] = degrees.map((degree) => scale.fingers[degree]!);
  const thumb = fingers.indexOf(1);
  if (degrees[0] !== 0) fingers.fill(null, 0, thumb);
  const top = fingers.length - 1;
  if (fingers[top] === 1) {
    // At the top the hand need not pass the thumb again, unless the line goes on upwards.
    const beyond = strokes[up ? last + 1 : first - 1];
    const goesOn = beyond !== undefined && beyond.midi > strokes[rising[top]!]!.midi;
    fingers[top] = goesOn ? null : ((fingers[top - 1]! + 1) as Finger);
  }
  return up ? fingers : fingers.reverse();
}
