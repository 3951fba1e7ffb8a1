import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { noteList } from '../../src/write/note-list.js';
import { readNoteList } from '../../src/write/read-note-list.js';
import { bareMelody, golden, melodies, TWO_LINES } from './melodies.js';

const rows = (text: string) =>
  text
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split('\t'));

describe('note list', () => {
  test('is written as worked out by hand', () => {
    expect(noteList(TWO_LINES)).toBe(readFileSync(golden('two-lines.tsv'), 'utf8'));
  });

  test('gives every row ten fields, and the sixth is the note', () => {
    const fields = rows(noteList(TWO_LINES));
    expect(fields.map((row) => row.length)).toEqual([10, 10, 10, 10]);
    expect(fields.map((row) => row[5])).toEqual(['F4', 'A4', 'Bb4', 'C5']);
  });

  test('writes a dash for what is unknown and leaves out the header lines of it', () => {
    expect(noteList(bareMelody([{ pitch: 59.9999 }]))).toBe(
      [
        '# cantilena note list 1',
        '# seconds 1.000',
        '# tuning-cents 0.0',
        '# line\tbar\tbeat\tstart\tlength\tnote\tcents\tsure\tfinger\tremark',
        '1\t-\t-\t0.000\t1.000\tC4\t0\t1.00\t1\t',
        '',
      ].join('\n'),
    );
  });

  test('spells the other key for the scale, or as the melody spells it', () => {
    const inAFlat = { tonic: 'Ab', mode: 'major', score: 1, notes: [], outside: [], deciders: [] } as const;
    const remark = (melody: typeof TWO_LINES) => rows(noteList(melody)).map((row) => row[9]);
    expect(remark(bareMelody([{ other: 61 }], { scales: [inAFlat] }))).toEqual(['or Db4, check by ear']);
    const spelt = bareMelody([{ other: 61 }, { start: 1, end: 2, midi: 61, pitch: 61, name: 'Db4' }]);
    expect(remark(spelt)[0]).toBe('or Db4, check by ear');
  });

  test('survives being written and read: keys exactly, times to 1 ms, pitch to 1 cent, doubts and lines', () => {
    fc.assert(
      fc.property(melodies, (melody) => {
        const read = readNoteList(noteList(melody), 'list');
        expect(read.notes.map((n) => n.midi)).toEqual(melody.notes.map((n) => n.midi));
        expect(read.notes.map((n) => n.other)).toEqual(melody.notes.map((n) => n.other));
        expect(read.lineStarts).toEqual(melody.lines.map((line) => line.first));
        expect(read.beatsPerBar).toBe(melody.meter.beatsPerBar);
        read.notes.forEach((n, i) => {
          const was = melody.notes[i]!;
          expect(Math.abs(n.start - was.start)).toBeLessThan(0.00051);
          expect(Math.abs(n.end - was.end)).toBeLessThan(0.00051);
          expect(Math.abs(n.pitch - was.pitch)).toBeLessThan(0.0061);
          expect(Math.abs(n.confidence - was.confidence)).toBeLessThan(0.0051);
        });
      }),
    );
  });

  test('is the same again after being read and written', () => {
    fc.assert(
      fc.property(melodies, (melody) => {
        const once = noteList(melody);
        const read = readNoteList(once, 'list');
        const again = noteList({
          ...melody,
          recording: { seconds: read.seconds, heardAs: read.heardAs },
          tuningCents: read.tuningCents,
          tempo: { bpm: read.bpm, beats: [] },
          meter: { ...melody.meter, beatsPerBar: read.beatsPerBar, firstDownbeat: read.firstDownbeat },
          notes: melody.notes.map((n, i) => ({ ...n, ...read.notes[i]! })),
        });
        expect(again).toBe(once);
      }),
    );
  });
});
