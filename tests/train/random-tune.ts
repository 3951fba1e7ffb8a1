/** Melodies for training: a random walk on a scale, in rhythms that songs have. None is a tune of the fixtures. */
import type { Random } from '../../fixtures/maker/random.js';
import type { Tune } from '../../fixtures/maker/tunes.js';

/** Semitones above the tonic. */
const SCALES: readonly (readonly number[])[] = [
  [0, 2, 4, 5, 7, 9, 11],
  [0, 2, 3, 5, 7, 8, 10],
  [0, 2, 3, 5, 7, 9, 10],
  [0, 2, 4, 5, 7, 9, 10],
  [0, 2, 4, 7, 9],
];
/** Bars of four beats; repeats make the common ones likelier. */
const BARS: readonly (readonly number[])[] = [
  [1, 1, 1, 1],
  [1, 1, 1, 1],
  [1, 1, 2],
  [2, 1, 1],
  [1.5, 0.5, 1, 1],
  [0.5, 0.5, 1, 0.5, 0.5, 1],
  [1, 0.5, 0.5, 1, 1],
  [0.5, 0.5, 0.5, 0.5, 1, 1],
  [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
  [0.5, 1, 0.5, 1.5, 0.5],
  [0.75, 0.25, 0.75, 0.25, 1, 1],
  [0.5, 0.25, 0.25, 0.5, 0.5, 1, 1],
  [3, 1],
];
const LAST_BARS: readonly (readonly number[])[] = [[4], [1, 3], [1, 1, 2], [0.5, 0.5, 3]];
const BEATS_A_BAR = 4;
/** Shortest note in seconds: faster than this nobody sings syllables. */
const SHORTEST_SECONDS = 0.11;
/** Scale steps from one note to the next; repeats make the common ones likelier. */
const STEPS = [0, 0, 0, 1, 1, 1, 1, -1, -1, -1, -1, -1, 2, 2, -2, -2, 3, -3, 4, -4];
/** Scale steps that a melody goes from its middle: an octave and a third in all. */
const FURTHEST_STEPS = 4;
const NAMES = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
/** The middle of the walk, as it is written; whoever performs it transposes. */
const MIDDLE_MIDI = 60;

/** A tune of whole lines, at least `seconds` long at the tempo. */
export function randomTune(seconds: number, beatsPerMinute: number, random: Random): Tune {
  const scale = random.pick(SCALES);
  const lines: string[] = [];
  let degree = 0;
  let beats = 0;
  while ((beats * 60) / beatsPerMinute < seconds) {
    const bars = random.pick([1, 1, 2, 3]);
    const tokens: string[] = [];
    for (let bar = 0; bar <= bars; bar++) {
      for (const length of barOf(bar === bars ? LAST_BARS : BARS, beatsPerMinute, random)) {
        degree = nextDegree(degree, random);
        tokens.push(`${nameOf(midiOf(scale, degree))}*${length}`);
      }
    }
    // A line in three is followed by a rest, the others only by a breath.
    if (random.chance(0.33)) tokens.push('-');
    lines.push(tokens.join(' '));
    beats += (bars + 1) * BEATS_A_BAR;
  }
  return { title: 'A random walk', source: 'written by a program for this project, CC0', lines };
}

/** A bar without notes that are too short at this tempo; those of whole beats always fit. */
function barOf(bars: readonly (readonly number[])[], beatsPerMinute: number, random: Random) {
  const shortest = (SHORTEST_SECONDS * beatsPerMinute) / 60;
  return random.pick(bars.filter((bar) => Math.min(...bar) >= shortest));
}

function nextDegree(degree: number, random: Random): number {
  const next = degree + random.pick(STEPS);
  return Math.abs(next) > FURTHEST_STEPS ? 2 * degree - next : next;
}

function midiOf(scale: readonly number[], degree: number): number {
  const octave = Math.floor(degree / scale.length);
  return MIDDLE_MIDI + 12 * octave + scale[degree - octave * scale.length];
}

function nameOf(midi: number): string {
  return `${NAMES[midi % 12]}${Math.floor(midi / 12) - 1}`;
}
