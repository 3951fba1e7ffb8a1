import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { noteList } from '../../src/write/note-list/note-list.js';
import { readNoteList } from '../../src/write/note-list/read-note-list.js';
import { bareMelody, golden, melodies, TWO_LINES, timedMelodies } from './melodies.js';

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
    const inAFlat = { ...TWO_LINES.scales[0]!, tonic: 'Ab' };
    const remark = (melody: typeof TWO_LINES) => rows(noteList(melody)).map((row) => row[9]);
    expect(remark(bareMelody([{ other: 61 }], { scales: [inAFlat] }))).toEqual(['or Db4, check by ear']);
    const spelt = bareMelody([{ other: 61 }, { start: 1, end: 2, midi: 61, pitch: 61, name: 'Db4' }]);
    expect(remark(spelt)[0]).toBe('or Db4, check by ear');
  });

  test('marks settled fingers and says where the hand lies', () => {
    const melody = {
      ...bareMelody([
        { finger: 2, fingerFixed: true, other: 61 },
        { start: 1, end: 2 },
        { start: 2, end: 3 },
      ]),
      hand: [
        { first: 1, thumb: 59 },
        { first: 3, thumb: 62 },
      ],
    };
    const fields = rows(noteList(melody));
    expect(fields.map((row) => row[8])).toEqual(['2!', '1', '1']);
    expect(fields.map((row) => row[9])).toEqual([
      'or C#4, check by ear; thumb on B3',
      '',
      'hand moves: thumb on D4',
    ]);
    const read = readNoteList(noteList(melody), 'list');
    expect(read.fixedFingers).toEqual([2, null, null]);
    expect(read.notes.map((n) => n.other)).toEqual([61, null, null]);
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
      fc.property(fc.oneof(melodies, timedMelodies), (melody) => {
        const once = noteList(melody);
        const read = readNoteList(once, 'list');
        const again = noteList({
          ...melody,
          recording: { seconds: read.seconds, heardAs: read.heardAs },
          tuningCents: read.tuningCents,
          tempo: { bpm: read.bpm, beats: read.beats ?? [] },
          meter: {
            beatsPerBar: read.beatsPerBar,
            beatUnit: read.beatUnit,
            firstDownbeat: read.firstDownbeat,
          },
          notes: melody.notes.map((n, i) => ({ ...n, ...read.notes[i]! })),
        });
        expect(again).toBe(once);
      }),
    );
  });

  test('holds beats of a varying tempo to the millisecond, four bars to a line, and an even one as its tempo', () => {
    const timed = (beats: number[]) => ({
      ...bareMelody([{ start: 0.5, end: 1 }]),
      tempo: { bpm: 120, beats },
      meter: { beatsPerBar: 2, beatUnit: 4, firstDownbeat: 0.5 } as const,
    });
    const even = Array.from({ length: 11 }, (_, i) => 0.5 + i / 2);
    const lines = (beats: number[]) => noteList(timed(beats)).match(/^# (tempo|beat-s).*$/gm);
    expect(lines(even)).toEqual(['# tempo-bpm 120']);
    expect(lines(even.map((time, i) => time + 0.005 * (i % 2)))).toEqual(['# tempo-bpm 120']);
    expect(lines(even.with(10, 5.5064))).toEqual([
      '# tempo-bpm 120',
      '# beat-seconds 0.500 1.000 1.500 2.000 2.500 3.000 3.500 4.000',
      '# beat-seconds 4.500 5.000 5.506',
    ]);
  });

  test('gives the beats back: given ones to half a millisecond, even ones to 5', () => {
    fc.assert(
      fc.property(timedMelodies, (melody) => {
        const { tempo, meter } = melody;
        const read = readNoteList(noteList(melody), 'list');
        expect([read.beatsPerBar, read.beatUnit ?? 4]).toEqual([meter.beatsPerBar, meter.beatUnit]);
        expect(Math.abs(read.firstDownbeat! - meter.firstDownbeat!)).toBeLessThan(0.000501);
        const zero = tempo.beats.indexOf(meter.firstDownbeat!);
        tempo.beats.forEach((time, i) => {
          const told = read.beats?.[i] ?? read.firstDownbeat! + ((i - zero) * 60) / read.bpm!;
          expect(Math.abs(told - time)).toBeLessThan(read.beats === null ? 0.012 : 0.000501);
        });
      }),
    );
  });
});
