import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Note } from '../../src/notes/types.js';
import { type MeasureInput, type MeasureOptions, measure } from '../../src/pipeline/measure.js';
import { parseNoteName } from '../../src/theory/pitch-names.js';
import { noteList } from '../../src/write/note-list/note-list.js';
import { readNoteList } from '../../src/write/note-list/read-note-list.js';
import { melodies } from '../write/melodies.js';

const UNKNOWN = { bpm: null, beatsPerBar: null, beatUnit: null, firstDownbeatSeconds: null };

const OPTIONS: MeasureOptions = {
  beat: UNKNOWN,
  key: null,
  hand: 'medium',
};

/** Half a second a note, with no gaps. */
function notesFrom(midis: readonly number[], from = 1): Note[] {
  return midis.map((midi, i) => ({
    start: from + i * 0.5,
    end: from + (i + 1) * 0.5,
    midi,
    pitch: midi + 0.1,
    confidence: 0.9,
    other: null,
  }));
}

function inputOf(midis: readonly number[], more: Partial<MeasureInput> = {}): MeasureInput {
  const notes = notesFrom(midis);
  return {
    notes,
    tuningCents: 10,
    seconds: notes.at(-1)!.end + 1,
    lineStarts: null,
    heardAs: null,
    band: null,
    ...more,
  };
}

// F major up and down, with its Bb (MIDI 70).
const F_SCALE = [65, 67, 69, 70, 72, 70, 69, 67, 65];

describe('what is passed through', () => {
  test('the notes, the tuning and the length come out as they went in', () => {
    const input = inputOf(F_SCALE);
    const melody = measure(input, OPTIONS);
    expect(melody.recording).toEqual({ seconds: input.seconds, heardAs: null });
    expect(melody.tuningCents).toBe(10);
    expect(melody.notes).toHaveLength(F_SCALE.length);
    melody.notes.forEach((note, i) => {
      expect(note).toMatchObject(input.notes[i]!);
    });
  });
});

describe('lines', () => {
  test('lines marked by a person are kept', () => {
    const { lines, notes } = measure(inputOf(F_SCALE, { lineStarts: [1, 4, 6] }), OPTIONS);
    expect(lines.map((l) => [l.first, l.last])).toEqual([
      [1, 3],
      [4, 5],
      [6, 9],
    ]);
    expect(lines.map((l) => [l.start, l.end])).toEqual([
      [1, 2.5],
      [2.5, 3.5],
      [3.5, 5.5],
    ]);
    expect(notes.map((n) => n.line)).toEqual([1, 1, 1, 2, 2, 3, 3, 3, 3]);
  });

  test('without marks they are found, and every note is in the line that holds it', () => {
    const first = notesFrom(F_SCALE, 0);
    const second = notesFrom(F_SCALE, 8);
    const { lines, notes } = measure(
      inputOf(F_SCALE, { notes: [...first, ...second], seconds: 13 }),
      OPTIONS,
    );
    expect(lines.map((l) => l.first)).toEqual([1, 10]);
    expect(lines[1]!.like).toBe(1);
    notes.forEach((note, i) => {
      const line = lines[note.line - 1]!;
      expect(i + 1).toBeGreaterThanOrEqual(line.first);
      expect(i + 1).toBeLessThanOrEqual(line.last);
    });
  });
});

describe('scales and spelling', () => {
  test('a key that is given comes first and spells the notes', () => {
    for (const [tonic, name] of [
      ['F', 'Bb4'],
      ['F#', 'A#4'],
      ['Gb', 'Bb4'],
      ['B', 'A#4'],
    ] as const) {
      const melody = measure(inputOf(F_SCALE), { ...OPTIONS, key: { tonic, mode: 'major' } });
      expect(melody.scales[0]).toMatchObject({ tonic, mode: 'major' });
      expect(melody.notes[3]!.name).toBe(name);
    }
  });

  test('without one the likeliest spells: a line round F with a Bb has no A#', () => {
    const melody = measure(inputOf([...F_SCALE, 65, 64, 65]), OPTIONS);
    expect(melody.scales[0]!.tonic).toBe('F');
    expect(melody.notes.map((n) => n.name).slice(0, 5)).toEqual(['F4', 'G4', 'A4', 'Bb4', 'C5']);
  });

  test('at most eight scales are kept, best first, and every name is the note it names', () => {
    for (const midis of [F_SCALE, [60], [60, 61, 62, 63, 64, 65, 66]]) {
      const { scales, notes } = measure(inputOf(midis), OPTIONS);
      expect(scales.length).toBeGreaterThan(0);
      expect(scales.length).toBeLessThanOrEqual(8);
      const scores = scales.map((s) => s.score);
      expect(scores).toEqual(scores.toSorted((a, b) => b - a));
      expect(notes.map((n) => parseNoteName(n.name))).toEqual(midis);
    }
  });
});

describe('places', () => {
  test('where no beat is heard there are none', () => {
    const { notes, tempo, meter } = measure(inputOf([65, 67, 69]), OPTIONS);
    expect(tempo).toEqual({ bpm: null, beats: [] });
    expect(meter).toEqual({ beatsPerBar: null, beatUnit: null, firstDownbeat: null });
    for (const note of notes) expect(note).toMatchObject({ bar: null, beat: null, beats: null });
  });

  test('notes every half second are heard as beats, at 120 a minute or half or double', () => {
    const { tempo } = measure(inputOf(F_SCALE), OPTIONS);
    const doublings = Math.log2(tempo.bpm! / 120);
    expect(doublings).toBeCloseTo(Math.round(doublings), 3);
  });

  test('at 120 beats a minute half a second is a beat, counted from the downbeat that is given', () => {
    const beat = { bpm: 120, beatsPerBar: 3, beatUnit: 4, firstDownbeatSeconds: 1 } as const;
    const { notes, tempo, meter } = measure(inputOf(F_SCALE), { ...OPTIONS, beat });
    expect(tempo.bpm).toBe(120);
    expect(tempo.beats.slice(0, 3)).toEqual([1, 1.5, 2]);
    expect(meter).toEqual({ beatsPerBar: 3, beatUnit: 4, firstDownbeat: 1 });
    expect(notes.map((n) => n.bar)).toEqual([1, 1, 1, 2, 2, 2, 3, 3, 3]);
    expect(notes.map((n) => n.beat)).toEqual([1, 2, 3, 1, 2, 3, 1, 2, 3]);
    expect(notes.map((n) => n.beats)).toEqual(new Array(9).fill(1));
  });

  test('a downbeat that is given makes the notes before it a pickup', () => {
    const beat = { ...UNKNOWN, bpm: 120, firstDownbeatSeconds: 1.5 };
    const { notes, meter } = measure(inputOf(F_SCALE), { ...OPTIONS, beat });
    expect(meter.firstDownbeat).toBe(1.5);
    expect(notes.slice(0, 3).map((n) => [n.bar, n.beat])).toEqual([
      [0, 4],
      [1, 1],
      [1, 2],
    ]);
  });
});

describe('fingers', () => {
  test('five neighbouring white keys up are 1 2 3 4 5 (common practice)', () => {
    expect(measure(inputOf([60, 62, 64, 65, 67]), OPTIONS).notes.map((n) => n.finger)).toEqual([
      1, 2, 3, 4, 5,
    ]);
  });

  test('settled ones stay, the first may be said, and the hand is where they put it', () => {
    const five = [60, 62, 64, 65, 67];
    const settled = measure({ ...inputOf(five), fixedFingers: [null, null, null, 1, null] }, OPTIONS);
    expect(settled.notes.map((n) => n.fingerFixed)).toEqual([false, false, false, true, false]);
    expect(settled.notes[3]!.finger).toBe(1);
    expect(settled.hand).toContainEqual({ first: 4, thumb: 65 });
    expect(measure(inputOf(five), OPTIONS).hand).toEqual([{ first: 1, thumb: 60 }]);
    expect(measure(inputOf(five), { ...OPTIONS, fromFinger: 2 }).notes[0]!.finger).toBe(2);
  });

  test.each(['small', 'medium', 'large'] as const)('a %s hand has a finger for every note', (hand) => {
    const { notes } = measure(inputOf([...F_SCALE, 48, 84, 60]), { ...OPTIONS, hand });
    for (const { finger } of notes) expect([1, 2, 3, 4, 5]).toContain(finger);
  });
});

function frozen(input: MeasureInput): MeasureInput {
  input.notes.forEach(Object.freeze);
  return Object.freeze({ ...input, notes: Object.freeze(input.notes) as readonly Note[] });
}

test('measure is pure: frozen inputs serve, and the same inputs give the same melody', () => {
  const options = Object.freeze({ ...OPTIONS, bpm: 96 });
  const melody = measure(frozen(inputOf(F_SCALE, { lineStarts: [1, 5] })), options);
  expect(measure(frozen(inputOf(F_SCALE, { lineStarts: [1, 5] })), options)).toEqual(melody);
});

test('a melody written as a note list, read and measured again is the same melody', () => {
  fc.assert(
    fc.property(melodies, fc.constantFrom(null, 60, 97.5, 120), (sung, bpm) => {
      // To the millisecond and the cent, as the list has them, so that nothing is rounded on the way.
      const notes = sung.notes
        .map((n) => ({ ...n, start: Math.round(n.start * 1e3) / 1e3, end: Math.round(n.end * 1e3) / 1e3 }))
        .map(({ start, end, midi, confidence, other }) => ({
          start,
          end: Math.max(end, start + 0.001),
          midi,
          pitch: midi + 0.12,
          confidence: Math.round(confidence * 100) / 100,
          other,
        }));
      const input = {
        notes,
        tuningCents: 12,
        seconds: Math.ceil(notes.at(-1)!.end),
        lineStarts: null,
        heardAs: null,
        band: null,
      };
      // A downbeat that is heard lies between the milliseconds of the list, and notes of some milliseconds tell.
      const firstDownbeatSeconds = bpm === null ? null : notes[0]!.start;
      const options = { ...OPTIONS, beat: { ...UNKNOWN, bpm, firstDownbeatSeconds } };
      const first = measure(input, options);
      const read = readNoteList(noteList(first), 'list');
      const beat = {
        bpm: read.bpm,
        beatsPerBar: read.beatsPerBar,
        beatUnit: read.beatUnit,
        firstDownbeatSeconds: read.firstDownbeat,
        beatSeconds: read.beats,
      };
      const again = measure({ ...read, band: null }, { ...options, beat });
      expect(again.notes).toHaveLength(first.notes.length);
      again.notes.forEach((note, i) => {
        const wanted = first.notes[i]!;
        expect(note).toMatchObject({
          midi: wanted.midi,
          name: wanted.name,
          confidence: wanted.confidence,
          other: wanted.other,
          line: wanted.line,
        });
        if (bpm !== null) {
          expect(note).toMatchObject({ bar: wanted.bar, beat: wanted.beat, beats: wanted.beats });
        }
        expect(note.start).toBeCloseTo(wanted.start, 6);
        expect(note.end).toBeCloseTo(wanted.end, 6);
        expect(note.pitch).toBeCloseTo(wanted.pitch, 6);
      });
      expect(again.lines.map((l) => [l.first, l.last, l.like])).toEqual(
        first.lines.map((l) => [l.first, l.last, l.like]),
      );
      if (bpm !== null) expect(again.tempo.bpm).toBeCloseTo(bpm, 3);
    }),
    { numRuns: 20 },
  );
});
