import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sectionsOf } from '../../../src/rhythm/form/sections.js';
import type { LineNote } from '../../../src/rhythm/lines/clock.js';
import { linesOf } from '../../../src/rhythm/lines/lines.js';
import type { Place, WrittenNotes } from '../../../src/rhythm/types.js';

/** MIDI number (0 for a rest) and beats. */
type Event = readonly [number, number];

/** A song in bars of four beats at half a second a beat. */
function written(events: readonly Event[]): { notes: LineNote[]; places: WrittenNotes } {
  const notes: LineNote[] = [];
  const places: Place[] = [];
  let at = 0;
  for (const [midi, beats] of events) {
    if (midi > 0) {
      notes.push({ start: at * 0.5, end: (at + beats) * 0.5, midi });
      places.push({ bar: Math.floor(at / 4) + 1, beat: (at % 4) + 1, beats });
    }
    at += beats;
  }
  return { notes, places: { places, beatsPerBar: 4 } };
}

/** Eight bars, two lines of four: even notes, then a long one and a rest. */
const verse: Event[] = [
  ...[60, 62, 64, 60, 67, 65, 64, 65, 62, 64, 60].map((midi): Event => [midi, 1]),
  [57, 3],
  [0, 2],
  ...[69, 65, 71, 67, 62, 69, 60, 65, 59, 62, 55].map((midi): Event => [midi, 1]),
  [60, 3],
  [0, 2],
];
/** Eight bars in dotted notes, higher, the second line not like the first. */
const chorus: Event[] = [
  ...[72, 69, 72, 69, 74, 71].flatMap((midi): Event[] => [
    [midi, 1.5],
    [midi + 1, 0.5],
  ]),
  [76, 4],
  ...[79, 74, 77, 72, 70, 75].flatMap((midi): Event[] => [
    [midi, 0.5],
    [midi - 3, 1.5],
  ]),
  [72, 4],
];
const up = (events: readonly Event[], by: number): Event[] =>
  events.map(([midi, beats]) => [midi === 0 ? 0 : midi + by, beats]);
const form = (events: readonly Event[], withBars = true): string => {
  const { notes, places } = written(events);
  const lines = linesOf(notes, withBars ? places : null);
  return sectionsOf(lines, notes, withBars ? places : null)
    .map((section) => section.letter)
    .join('');
};

describe('sectionsOf', () => {
  test('no lines have no sections', () => {
    expect(sectionsOf([], [])).toEqual([]);
  });

  test('a short solo in which nothing comes again is one section', () => {
    expect(form(verse)).toBe('A');
    expect(form(verse, false)).toBe('A');
  });

  test('verse and chorus come again under their letters', () => {
    expect(form([...verse, ...chorus, ...verse, ...chorus])).toBe('ABAB');
  });

  test('a last chorus a step up is still the chorus', () => {
    expect(form([...verse, ...chorus, ...verse, ...chorus, ...up(chorus, 2)])).toBe('ABABB');
  });

  test('a few changed notes keep the letter, other music takes a new one', () => {
    const varied = verse.map(([midi, beats], i): Event => [i % 9 === 4 ? midi + 5 : midi, beats]);
    expect(form([...verse, ...chorus, ...verse, ...chorus, ...varied, ...chorus])).toBe('ABABAB');
  });

  test('letters go on after Z', () => {
    // Notes at random, so that nothing comes again (the generator of Park & Miller 1988).
    let seed = 1;
    const random = (): number => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    const events = Array.from({ length: 60 }, (): Event[] => [
      ...Array.from({ length: 24 }, (): Event => [40 + Math.floor(40 * random()), 1]),
      [60, 2],
      [0, 6],
    ]).flat();
    const { notes, places } = written(events);
    const letters = sectionsOf(linesOf(notes, places), notes, places).map((section) => section.letter);
    const firsts = [...new Set(letters)];
    expect(firsts.length).toBeGreaterThan(26);
    expect(firsts[25]).toBe('Z');
    expect(firsts[26]).toBe('AA');
  });

  const song = fc.array(fc.tuple(fc.integer({ min: 59, max: 72 }), fc.constantFrom(0.5, 1, 1.5, 2, 4)), {
    minLength: 1,
    maxLength: 90,
  });

  test('every line is in exactly one section, in order', () => {
    fc.assert(
      fc.property(song, fc.boolean(), (events, withBars) => {
        const { notes, places } = written(events);
        const lines = linesOf(notes, withBars ? places : null);
        const sections = sectionsOf(lines, notes, withBars ? places : null);
        expect(
          sections.flatMap((s) => Array.from({ length: s.last - s.first + 1 }, (_, i) => s.first + i)),
        ).toEqual(lines.map((_, i) => i + 1));
        expect(sections[0]?.letter).toBe('A');
      }),
      { numRuns: 60 },
    );
  });

  test('another key changes no line and no letter, nor does another tempo', () => {
    fc.assert(
      fc.property(
        song,
        fc.boolean(),
        fc.integer({ min: -12, max: 12 }),
        fc.double({ min: 0.8, max: 1.25, noNaN: true }),
        (events, withBars, key, speed) => {
          const { notes, places } = written(events);
          const beats = withBars ? places : null;
          const moved = notes.map((n) => ({
            start: n.start * speed,
            end: n.end * speed,
            midi: n.midi + key,
          }));
          const lines = linesOf(notes, beats);
          const movedLines = linesOf(moved, beats);
          const facts = (of: typeof lines) => of.map(({ first, last, like }) => ({ first, last, like }));
          expect(facts(movedLines)).toEqual(facts(lines));
          expect(sectionsOf(movedLines, moved, beats)).toEqual(sectionsOf(lines, notes, beats));
        },
      ),
      { numRuns: 60 },
    );
  });
});
