/** Melodies for the tests of the writers and readers. */
import fc from 'fast-check';
import type { Melody, MelodyNote } from '../../src/melody.js';

const note = (part: Partial<MelodyNote>): MelodyNote => ({
  start: 0,
  end: 1,
  midi: 60,
  pitch: 60,
  confidence: 1,
  other: null,
  name: 'C4',
  line: 1,
  bar: null,
  beat: null,
  beats: null,
  finger: 1,
  ...part,
});

/** Two lines of two notes at 120 beats a minute in 4/4; tests/write/golden holds what it must look like. */
export const TWO_LINES: Melody = {
  recording: {
    seconds: 5.25,
    heardAs: { source: 'solo', why: 'one pitch at a time explains the sound' },
  },
  tuningCents: 10,
  tempo: { bpm: 120, beats: [0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5] },
  meter: { beatsPerBar: 4, beatUnit: 4, firstDownbeat: 0.5 },
  notes: [
    note({
      start: 0.5,
      end: 1,
      midi: 65,
      pitch: 65.1,
      confidence: 0.98,
      name: 'F4',
      bar: 1,
      beat: 1,
      beats: 1,
      finger: 1,
    }),
    note({
      start: 1,
      end: 1.5,
      midi: 69,
      pitch: 68.95,
      confidence: 0.55,
      other: 67,
      name: 'A4',
      bar: 1,
      beat: 2,
      beats: 1,
      finger: 3,
    }),
    note({
      start: 3.0004,
      end: 3.7496,
      midi: 70,
      pitch: 70.2,
      name: 'Bb4',
      line: 2,
      bar: 2,
      beat: 2,
      beats: 1.5,
      finger: 4,
    }),
    note({
      start: 3.7496,
      end: 4.5,
      midi: 72,
      pitch: 72.104,
      confidence: 0.6,
      name: 'C5',
      line: 2,
      bar: 2,
      beat: 3.5,
      beats: 1.5,
      finger: 5,
    }),
  ],
  lines: [
    { start: 0.5, end: 1.5, first: 1, last: 2, like: null },
    { start: 3.0004, end: 4.5, first: 3, last: 4, like: 1 },
  ],
  sections: [{ letter: 'A', first: 1, last: 2 }],
  scales: [
    {
      tonic: 'F',
      mode: 'major',
      score: 0.8333,
      notes: ['F', 'G', 'A', 'Bb', 'C', 'D', 'E'],
      outside: [],
      deciders: ['E', 'Eb'],
      place: 1,
      rival: { tonic: 'Bb', mode: 'major' },
      decidersAt: [
        { name: 'E', numbers: [] },
        { name: 'Eb', numbers: [] },
      ],
      outsideAt: [],
    },
    {
      tonic: 'C',
      mode: 'major',
      score: 0.1,
      notes: ['C', 'D', 'E', 'F', 'G', 'A', 'B'],
      outside: ['Bb'],
      deciders: [],
      place: 2,
      rival: null,
      decidersAt: [],
      outsideAt: [{ name: 'Bb', numbers: [3], doubtful: [], nextTo: ['A', 'B'] }],
    },
  ],
  grade: {
    level: 2.6,
    reasons: ['a quarter of the notes last 0.50 s or less', '4 different notes', 'no black keys'],
    parts: [
      { what: 'short notes', value: 0.49996, adds: 0.9 },
      { what: 'different notes', value: 4, adds: 0.7004 },
      { what: 'syncopation', value: null, adds: 0 },
    ],
  },
};

/** As easy as can be. */
export const EASIEST: Melody['grade'] = { level: 1, reasons: [], parts: [] };

/** A melody of which nothing is known but its notes, all in one line. */
export function bareMelody(notes: readonly Partial<MelodyNote>[], more: Partial<Melody> = {}): Melody {
  const full = notes.map(note);
  return {
    recording: { seconds: full.at(-1)?.end ?? 0, heardAs: null },
    tuningCents: 0,
    tempo: { bpm: null, beats: [] },
    meter: { beatsPerBar: null, beatUnit: null, firstDownbeat: null },
    notes: full,
    lines: [],
    sections: [],
    scales: [],
    grade: EASIEST,
    ...more,
  };
}

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const seconds = (least: number, most: number) =>
  fc.double({ min: least, max: most, noNaN: true, noDefaultInfinity: true });

/** Melodies of 1 to 12 notes, 5 ms to 3 s long, abutting or apart, in 1 to 3 lines, tempo known or not. */
export const melodies: fc.Arbitrary<Melody> = fc
  .record({
    steps: fc.array(
      fc.record({
        gap: fc.oneof(fc.constant(0), seconds(0, 3)),
        length: seconds(0.005, 3),
        midi: fc.integer({ min: 0, max: 127 }),
        cents: seconds(-60, 60),
        confidence: seconds(0, 1),
        other: fc.option(fc.integer({ min: 0, max: 127 })),
        newLine: fc.boolean(),
      }),
      { minLength: 1, maxLength: 12 },
    ),
    tuningCents: seconds(-50, 50),
    bpm: fc.option(seconds(20, 300)),
    beatsPerBar: fc.option(fc.integer({ min: 1, max: 12 })),
    heardAs: fc.option(
      fc.record({
        source: fc.constantFrom('solo' as const, 'mix' as const),
        why: fc.option(fc.constantFrom('a bass sounds below the melody', 'it stops (mostly)')),
      }),
    ),
  })
  .map(({ steps, tuningCents, bpm, beatsPerBar: bar, heardAs }) => {
    // There are no bars without beats.
    const beatsPerBar = bpm === null ? null : bar;
    let time = 0;
    let line = 1;
    const notes = steps.map((step, index) => {
      const start = time + step.gap;
      time = start + step.length;
      if (index > 0 && step.newLine) line++;
      return note({
        start,
        end: time,
        midi: step.midi,
        pitch: step.midi + (step.cents + tuningCents) / 100,
        confidence: step.confidence,
        other: step.other === step.midi ? null : step.other,
        name: `${SHARPS[step.midi % 12]}${Math.floor(step.midi / 12) - 1}`,
        line,
      });
    });
    const lines = Array.from({ length: line }, (_, index) => {
      const first = notes.findIndex((n) => n.line === index + 1);
      const last = notes.findLastIndex((n) => n.line === index + 1);
      return {
        start: notes[first]!.start,
        end: notes[last]!.end,
        first: first + 1,
        last: last + 1,
        like: null,
      };
    });
    return bareMelody(notes, {
      recording: { seconds: time + 0.5, heardAs },
      tuningCents,
      tempo: { bpm, beats: [] },
      meter: {
        beatsPerBar,
        beatUnit: beatsPerBar === null ? null : 4,
        firstDownbeat: beatsPerBar === null ? null : notes[0]!.start,
      },
      lines,
    });
  });

/**
 * Melodies as `melodies` gives them, on beats: even ones, slowing ones, or ones of all lengths, in 1 to 7 quarters or
 * eighths a bar. The first note lies in the first bar, which may begin before second 0 and may be a pickup.
 */
export const timedMelodies: fc.Arbitrary<Melody> = fc
  .record({
    melody: melodies,
    beatsPerBar: fc.integer({ min: 1, max: 7 }),
    beatUnit: fc.constantFrom(4 as const, 8 as const),
    beatSeconds: seconds(0.15, 1.5),
    drift: fc.oneof(fc.constant(0), seconds(-0.002, 0.002)),
    swings: fc.oneof(fc.constant([0]), fc.array(seconds(-0.3, 0.3), { minLength: 1, maxLength: 9 })),
    place: seconds(-0.05, 0.95),
    pickup: fc.boolean(),
  })
  .map(({ melody, beatsPerBar, beatUnit, beatSeconds, drift, swings, place, pickup }) => {
    const beats = [melody.notes[0]!.start - place * beatsPerBar * beatSeconds];
    const end = melody.notes.at(-1)!.end;
    while (
      beats.at(-1)! <= end ||
      beats.length % beatsPerBar !== 1 % beatsPerBar ||
      beats.length <= 2 * beatsPerBar
    ) {
      const swing = swings[beats.length % swings.length]!;
      beats.push(beats.at(-1)! + Math.max(0.1, beatSeconds * (1 + swing) * (1 + drift) ** beats.length));
    }
    const spans = beats.slice(1).map((time, i) => time - beats[i]!);
    return {
      ...melody,
      tempo: { bpm: 60 / spans.sort((a, b) => a - b)[spans.length >> 1]!, beats },
      meter: { beatsPerBar, beatUnit, firstDownbeat: beats[pickup ? beatsPerBar : 0]! },
    };
  });

/** Where a golden file lies. */
export function golden(name: string): URL {
  return new URL(`golden/${name}`, import.meta.url);
}
