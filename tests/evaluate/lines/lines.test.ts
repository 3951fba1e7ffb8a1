import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { LineNote } from '../../../src/rhythm/lines/clock.js';
import { folkTunes } from './folk-lines.js';
import { exactF } from './made-tunes.js';
import { readPhraseSongs } from './phrase-songs.js';
import {
  startsByGrouper,
  startsByLbdm,
  startsByRests,
  startsByRestsAndLongNotes,
} from './published-models.js';
import { linesReport } from './report.js';
import { scoreBetterReading, scoreStarts } from './start-scores.js';

describe('readPhraseSongs', () => {
  const song = {
    id: '7',
    bpm: 60,
    notes: [
      [60, 4],
      [0, 12],
      [62, 16],
      [64, 8],
    ],
    phrases: [
      ['A', 1],
      ['i', 1],
      ['B', 2],
    ],
    phrasesOther: [['A', 4]],
  };

  test('notes in seconds and in bars, sung phrases with notes at their bar lines', () => {
    const [read] = readPhraseSongs(JSON.stringify(song), 'here');
    expect(read!.notes[1]).toEqual({ start: 4, end: 8, midi: 62 });
    expect(read!.onsets).toEqual([0, 16, 32]);
    expect(read!.written.places[2]).toEqual({ bar: 3, beat: 1, beats: 2 });
    expect(read!.readings).toEqual([
      [
        { start: 0, letter: 'A' },
        { start: 32, letter: 'B' },
      ],
      [{ start: 0, letter: 'A' }],
    ]);
  });

  test('a song without sung phrases is an error', () => {
    const bare = JSON.stringify({ ...song, phrases: [['i', 4]] });
    expect(() => readPhraseSongs(bare, 'here')).toThrow('here: song 7 has no notes or no sung phrase.');
  });
});

describe('scoreStarts', () => {
  // Bar lines at 0, 16, 32; by hand.
  const onsets = [0, 8, 14, 25, 60];

  test('right within half a bar, once for each marked start', () => {
    expect(scoreStarts(onsets, [0, 2], [0, 16])).toMatchObject({ precision: 1, recall: 1, f: 1, ratio: 1 });
    expect(scoreStarts(onsets, [0, 1, 2], [0, 16])).toMatchObject({
      precision: 2 / 3,
      recall: 1,
      ratio: 1.5,
    });
    expect(scoreStarts(onsets, [4], [0, 16])).toMatchObject({ precision: 0, recall: 0, f: 0 });
  });

  test('right on the first note after the bar line, however late', () => {
    expect(scoreStarts(onsets, [0, 4], [0, 32]).recall).toBe(1);
  });

  test('the reading that agrees better', () => {
    expect(scoreBetterReading(onsets, [0, 2], [[0], [0, 16]]).f).toBe(1);
  });
});

describe('published models', () => {
  const notes = (events: readonly (readonly [number, number])[]): LineNote[] => {
    let at = 0;
    return events.flatMap(([midi, beats]) => {
      at += beats;
      return midi === 0 ? [] : [{ start: at - beats, end: at, midi }];
    });
  };
  const even = (count: number): [number, number][] => Array.from({ length: count }, () => [60, 1]);

  test('rests begin a phrase, long notes only where they are asked for', () => {
    const song = notes([...even(4), [0, 1], ...even(4), [60, 3], ...even(3)]);
    expect(startsByRests(song, 1, 1)).toEqual([0, 4]);
    expect(startsByRestsAndLongNotes(song, 1, 2)).toEqual([0, 4, 9]);
  });

  test('LBDM finds the one leap or long note in even notes', () => {
    const leap = notes([...even(6), ...even(6).map(([m, b]): [number, number] => [m + 7, b])]);
    expect(startsByLbdm(leap, 1, 1)).toEqual([0, 6]);
    expect(startsByLbdm(notes([...even(6), [60, 3], ...even(6)]), 1, 1)).toEqual([0, 7]);
  });

  test('Grouper divides at gaps into groups of about ten', () => {
    const group: [number, number][] = [...even(9), [60, 3]];
    expect(startsByGrouper(notes([...group, ...group, ...group]))).toEqual([0, 10, 20]);
  });
});

test('exact F of starts', () => {
  expect(exactF([0, 4, 9], [0, 9])).toBeCloseTo(0.8);
});

test('no report of a folder without the files', () => {
  expect(linesReport(mkdtempSync(join(tmpdir(), 'lines-')))).toBeNull();
});

test('rows of ABC files are lines of the song, in beats of the time signature', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lines-'));
  const row = 'G2 | c2 d2 e2 | d4';
  const abc = `X:1\nM: 3/4\nL: 1/8\nK: C\n${row}\n${row}\n${row}\n${row} |\n`;
  writeFileSync(join(folder, 'a.abc'), abc);
  writeFileSync(join(folder, 'han.abc'), abc);
  const tunes = folkTunes(folder);
  expect(tunes).toHaveLength(1);
  const [{ lineStarts, notes, written }] = tunes as [(typeof tunes)[number]];
  expect(lineStarts).toEqual([0, 5, 10, 15]);
  expect(notes.map((note) => note.midi).slice(0, 5)).toEqual([67, 72, 74, 76, 74]);
  expect(written.places.slice(0, 5).map(({ bar, beat, beats }) => [bar, beat, beats])).toEqual([
    [0, 3, 1],
    [1, 1, 1],
    [1, 2, 1],
    [1, 3, 1],
    [2, 1, 2],
  ]);
});
