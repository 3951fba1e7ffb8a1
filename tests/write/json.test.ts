import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CantilenaError, NoMelodyError } from '../../src/errors.js';
import { melodyJson } from '../../src/write/json/json.js';
import { readMelodyJson } from '../../src/write/json/read-json.js';
import { melodySchemaText } from '../../src/write/json/schema.js';
import { bareMelody, golden, melodies, TWO_LINES, timedMelodies } from './melodies.js';

const good = melodyJson(TWO_LINES);

const message = (text: string): string => {
  try {
    readMelodyJson(text, 'song.json');
  } catch (error) {
    if (error instanceof CantilenaError) return error.message;
    throw error;
  }
  return 'no error';
};

describe('JSON', () => {
  test('is written as worked out by hand, one note a line', () => {
    expect(good).toBe(readFileSync(golden('two-lines.json.txt'), 'utf8'));
  });

  test('holds settled fingers and where the hand lies, and gives the fingers back', () => {
    const melody = {
      ...bareMelody([
        { finger: 2, fingerFixed: true },
        { start: 1, end: 2 },
      ]),
      hand: [{ first: 1, thumb: 59 }],
    };
    const text = melodyJson(melody);
    expect(JSON.parse(text).hand).toEqual([{ first: 1, thumb: 59 }]);
    expect(JSON.parse(text).notes.map((n: { fingerFixed?: boolean }) => n.fingerFixed)).toEqual([
      true,
      undefined,
    ]);
    expect(readMelodyJson(text, 'song.json').fixedFingers).toEqual([2, null]);
  });

  test('writes empty lists and unknown values', () => {
    expect(JSON.parse(melodyJson(bareMelody([])))).toEqual({
      format: 'cantilena-melody',
      version: 1,
      recording: { seconds: 0, source: null, why: null },
      tuningCents: 0,
      tempo: { bpm: null, beats: [] },
      meter: { beatsPerBar: null, beatUnit: null, firstDownbeat: null },
      notes: [],
      lines: [],
      sections: [],
      scales: [],
      grade: { level: 1, reasons: [], parts: [] },
    });
  });

  test('survives being written and read: keys exactly, times to 0.1 ms, pitch to 0.1 cent', () => {
    fc.assert(
      fc.property(melodies, (melody) => {
        const read = readMelodyJson(melodyJson(melody), 'json');
        expect(read.notes.map((n) => [n.midi, n.other])).toEqual(melody.notes.map((n) => [n.midi, n.other]));
        expect(read.lineStarts).toEqual(melody.lines.map((line) => line.first));
        expect(read.beatsPerBar).toBe(melody.meter.beatsPerBar);
        expect(read.heardAs).toEqual(melody.recording.heardAs);
        expect(Math.abs(read.tuningCents - melody.tuningCents)).toBeLessThan(0.0051);
        expect(Math.abs((read.bpm ?? 0) - (melody.tempo.bpm ?? 0))).toBeLessThan(0.00051);
        read.notes.forEach((n, i) => {
          const was = melody.notes[i]!;
          expect(Math.abs(n.start - was.start)).toBeLessThan(0.000051);
          expect(Math.abs(n.end - was.end)).toBeLessThan(0.000051);
          expect(Math.abs(n.pitch - was.pitch)).toBeLessThan(0.00051);
          expect(Math.abs(n.confidence - was.confidence)).toBeLessThan(0.00051);
        });
      }),
    );
  });

  test('gives beats, bars and tempo back, and is the same text again', () => {
    fc.assert(
      fc.property(timedMelodies, (melody) => {
        const { tempo, meter } = melody;
        const once = melodyJson(melody);
        const read = readMelodyJson(once, 'json');
        expect([read.beatsPerBar, read.beatUnit]).toEqual([meter.beatsPerBar, meter.beatUnit]);
        expect(read.beats).toHaveLength(tempo.beats.length);
        read.beats!.forEach((time, i) => {
          expect(Math.abs(time - tempo.beats[i]!)).toBeLessThan(0.0000501);
        });
        const again = melodyJson({
          ...melody,
          tempo: { bpm: read.bpm, beats: read.beats! },
          meter: { ...meter, firstDownbeat: read.firstDownbeat },
        });
        expect(again).toBe(once);
      }),
    );
  });

  test('reads beats where there are two, and names one that is none', () => {
    const beats = (text: string) => good.replace(/"beats":\[0\.5.*?\]/, text);
    expect(readMelodyJson(beats('"beats":[0.5]'), 'x')).toMatchObject({ beats: null, bpm: 120 });
    expect(readMelodyJson(beats('"beats":[0.5,1.25]'), 'x').beats).toEqual([0.5, 1.25]);
    expect(readMelodyJson(beats('"other":[]'), 'x').beats).toBeNull();
    expect(message(beats('"beats":[0.5,1,1,2]'))).toBe(
      'song.json is not a melody: tempo.beats[2] is 1, which is not 0.06 to 15 s after the beat before, 1.',
    );
    expect(message(good.replace('"beatsPerBar":4', '"beatsPerBar":2.5'))).toContain(
      'meter.beatsPerBar is wrong',
    );
  });

  test('has its schema in docs/melody.schema.json as the program generates it', () => {
    const file = new URL('../../docs/melody.schema.json', import.meta.url);
    expect(readFileSync(file, 'utf8'), 'regenerate it as docs/melody-json.md says').toBe(melodySchemaText());
  });

  test('brings what the recording was heard as; files of earlier versions say nothing of it', () => {
    const read = (text: string) => readMelodyJson(text, 'x').heardAs;
    expect(read(good)).toEqual({ source: 'solo', why: 'one pitch at a time explains the sound' });
    expect(read(good.replace(/,"source".*?"}/, '}'))).toBeNull();
    expect(read(good.replace(/"why":".*?"/, '"why":null'))).toEqual({ source: 'solo', why: null });
    // Beats would be counted out to there.
    expect(
      message(
        good
          .replace('"seconds":', '"x":0,"seconds":')
          .replace(/"firstDownbeat":[^,}]*/, '"firstDownbeat":-1e15'),
      ),
    ).toMatch(/meter\.firstDownbeat is -1000000000000000, which is more than 172800 s off\.$/);
    // Words from a file go into a line of the note list and to terminals: no line breaks, no control codes.
    expect(read(good.replace(/"why":".*?"/, '"why":"\\u001b[31mred\\n# x\\u202e"'))).toEqual({
      source: 'solo',
      why: ' [31mred # x',
    });
    expect(message(good.replace('"source":"solo"', '"source":"choir"'))).toMatch(
      /recording\.source is wrong: /,
    );
  });

  test('lets fields through that a later version adds', () => {
    expect(message(good.replace('"version": 1,', '"version": 1, "grade": {"level": 3},'))).toBe('no error');
  });

  test.each([
    ['format', good.replace('cantilena-melody', 'other'), 'format is wrong: expected "cantilena-melody"'],
    ['version', good.replace('"version": 1', '"version": 2'), 'version is wrong: expected 1'],
    ['a missing field', good.replace('"midi":69,', ''), 'notes[1].midi is missing'],
    [
      'a word for a number',
      good.replace('"midi":69', '"midi":"A4"'),
      'notes[1].midi is wrong: expected number, received string',
    ],
    [
      'a key outside MIDI',
      good.replace('"midi":69', '"midi":128'),
      'notes[1].midi is wrong: expected number to be <=127',
    ],
    ['a list for the whole', '[]', 'the text is wrong: expected object, received array'],
    [
      'an end before the start',
      good.replace('"end":1.5', '"end":1'),
      'notes[1].end is 1, which is not later than its start 1',
    ],
    [
      'an overlap',
      good.replace('"end":1.5', '"end":3.5'),
      'notes[2].start is 3.0004, before the end 3.5 of the note before',
    ],
    [
      'a wrong order',
      good.replace('"start":1,', '"start":0.5,'),
      'notes[1].start is 0.5, not later than the start 0.5 of the note before',
    ],
    [
      'a line without a note',
      good.replace('"first":3', '"first":5'),
      'lines[1].first is 5, expected a note number from 2 to 4',
    ],
  ])('names the path of a mistake: %s', (_what, text, expected) => {
    expect(message(text)).toBe(`song.json is not a melody: ${expected}.`);
  });

  test('says what is not JSON, and takes a byte order mark', () => {
    expect(message('{"format":')).toMatch(/^song\.json is not JSON: [^\n]+\.$/);
    expect(message('line\nline')).toMatch(/^song\.json is not JSON: [^\n]+\.$/);
    expect(message(`\uFEFF${good}`)).toBe('no error');
  });

  test('says that empty notes are no melody', () => {
    expect(() => readMelodyJson(melodyJson(bareMelody([])), 'x')).toThrow(NoMelodyError);
  });

  test('meets any JSON with a melody or with one sentence on one line', () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect(message(text)).toMatch(/^[^\n]+$/);
      }),
    );
  });
});
