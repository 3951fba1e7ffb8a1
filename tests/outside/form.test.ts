/**
 * Lines and form of traditional tunes in the public domain, typed from memory; that their lines are these and their
 * form is so is common practice in song books.
 */
import { describe, expect, test } from 'vitest';
import { sectionsOf } from '../../src/rhythm/form/sections.js';
import type { LineNote } from '../../src/rhythm/lines/clock.js';
import { linesOf } from '../../src/rhythm/lines/lines.js';
import type { Place, WrittenNotes } from '../../src/rhythm/types.js';

/** Notes as MIDI number and beats, a line of the song a row. */
type Row = readonly (readonly [number, number])[];

interface Tune {
  readonly notes: LineNote[];
  readonly written: WrittenNotes;
  /** Number of the first note of every row. */
  readonly starts: number[];
}

function tune(rows: readonly Row[], beatsPerBar: number, pickup = 0): Tune {
  const notes: LineNote[] = [];
  const places: Place[] = [];
  const starts: number[] = [];
  let at = -pickup;
  for (const row of rows) {
    starts.push(notes.length + 1);
    for (const [midi, beats] of row) {
      notes.push({ start: 10 + at * 0.5, end: 10 + (at + beats) * 0.5 - 0.03, midi });
      const bar = Math.floor(at / beatsPerBar);
      places.push({ bar: bar + 1, beat: at - bar * beatsPerBar + 1, beats });
      at += beats;
    }
  }
  return { notes, written: { places, beatsPerBar }, starts };
}

const quarters = (...pitches: number[]): [number, number][] => pitches.map((midi) => [midi, 1]);

/** `Ah vous dirai-je, maman`, the tune of `Twinkle, twinkle, little star`. */
const star1: Row = [...quarters(60, 60, 67, 67, 69, 69), [67, 2]];
const star2: Row = [...quarters(65, 65, 64, 64, 62, 62), [60, 2]];
const star3: Row = [...quarters(67, 67, 65, 65, 64, 64), [62, 2]];
const star = tune([star1, star2, star3, star3, star1, star2], 4);

/** The theme of joy of Beethoven's ninth symphony, without its anticipated note. */
const joyHead = quarters(64, 64, 65, 67, 67, 65, 64, 62, 60, 60, 62, 64);
const joy1: Row = [...joyHead, [64, 1.5], [62, 0.5], [62, 2]];
const joy2: Row = [...joyHead, [62, 1.5], [60, 0.5], [60, 2]];
const joy3: Row = [
  ...quarters(62, 62, 64, 60, 62),
  [64, 0.5],
  [65, 0.5],
  ...quarters(64, 60, 62),
  [64, 0.5],
  [65, 0.5],
  ...quarters(64, 62, 60, 62),
  [55, 2],
];
const joy = tune([joy1, joy2, joy3, joy2], 4);

/** `Au clair de la lune`. */
const moonA: Row = [...quarters(60, 60, 60, 62), [64, 2], [62, 2], ...quarters(60, 64, 62, 62), [60, 4]];
const moonB: Row = [...quarters(62, 62, 62, 62), [57, 2], [57, 2], ...quarters(62, 60, 59, 57), [55, 4]];
const moon = tune([moonA, moonA, moonB, moonA], 4);

/** `Amazing grace`, to the melody `New Britain`; begins a beat before the bar. */
const grace1: Row = [
  [62, 1],
  [67, 2],
  [71, 0.5],
  [67, 0.5],
  [71, 2],
  [69, 1],
  [67, 2],
  [64, 1],
  [62, 2],
];
const grace2: Row = [
  [62, 1],
  [67, 2],
  [71, 0.5],
  [67, 0.5],
  [71, 2],
  [69, 1],
  [74, 5],
];
const grace3: Row = [
  [71, 1],
  [74, 2],
  [71, 0.5],
  [67, 0.5],
  [71, 2],
  [69, 1],
  [67, 2],
  [64, 1],
  [62, 2],
];
const grace4: Row = [
  [62, 1],
  [67, 2],
  [71, 0.5],
  [67, 0.5],
  [71, 2],
  [69, 1],
  [67, 5],
];
const grace = tune([grace1, grace2, grace3, grace4], 3, 1);

const startsOf = ({ notes, written }: Tune, withBars: boolean): number[] =>
  linesOf(notes, withBars ? written : null).map((line) => line.first);
const likesOf = ({ notes, written }: Tune): (number | null)[] =>
  linesOf(notes, written).map((line) => line.like);
const formOf = ({ notes, written }: Tune): string =>
  sectionsOf(linesOf(notes, written), notes, written)
    .map((section) => `${section.letter}${section.first}-${section.last}`)
    .join(' ');

describe('traditional tunes', () => {
  test.each([
    ['little star', star],
    ['joy', joy],
    ['moon', moon],
  ])('%s has the lines of the song book, with bars and without', (_, known) => {
    expect(startsOf(known, true)).toEqual(known.starts);
    expect(startsOf(known, false)).toEqual(known.starts);
  });

  test('lines that begin before the bar', () => {
    expect(startsOf(grace, true)).toEqual(grace.starts);
  });

  test('lines that come again are named', () => {
    expect(likesOf(star)).toEqual([null, null, null, 3, 1, 2]);
    expect(likesOf(joy)).toEqual([null, 1, null, 2]);
    expect(likesOf(moon)).toEqual([null, 1, null, 1]);
  });

  test('sections: parts that come again have the same letter', () => {
    expect(formOf(star)).toBe('A1-2 B3-4 A5-6');
    expect(formOf(moon)).toBe('A1-1 A2-2 B3-3 A4-4');
    expect(formOf(grace)).toBe('A1-2 A3-4');
  });
});
