import { describe, expect, test } from 'vitest';
import { steadyBeats } from '../../../src/rhythm/beats/steady-beats.js';
import { madeRhythmRow, madeRhythmText } from './made.js';

const truth = {
  tune: 'little-star',
  bpm: 120,
  beatsPerBar: 4,
  firstBeat: 1,
  notes: Array.from({ length: 8 }, (_, i) => ({
    on: 1 + i / 2,
    off: 1.45 + i / 2,
    midi: 60 + i,
    beat: i,
    beats: 1,
  })),
};
const at = (bpm: number, firstDownbeatSeconds = 1) =>
  steadyBeats({ bpm, beatsPerBar: 4, beatUnit: 4, firstDownbeatSeconds }, 6);
const notes = truth.notes.map((note, i) => ({
  start: note.on,
  end: note.off,
  pitch: note.midi,
  bar: 1 + Math.floor(i / 4),
  beat: 1 + (i % 4),
  beats: 1,
}));

describe('madeRhythmRow', () => {
  test('the truth is right', () => {
    expect(madeRhythmRow('x', notes, at(120), truth)).toMatchObject({
      tempoRight: true,
      metreRight: true,
      beatF: 1,
      found: 8,
      startRight: 8,
      lengthRight: 8,
      bothRight: 8,
    });
  });

  test('twice the tempo is wrong, and so is half the beat F that its extra beats are', () => {
    const row = madeRhythmRow('x', notes, at(240), truth);
    expect(row.tempoRight).toBe(false);
    // 8 beats all found among 15: 2 · 8 / (8 + 15).
    expect(row.beatF).toBeCloseTo(16 / 23, 9);
  });

  test('the bar line is right where the tune is printed so, in the right metre, whichever bar is counted first', () => {
    const isRight = (beats: ReturnType<typeof at>, tune = truth.tune) =>
      madeRhythmRow('x', notes, beats, { ...truth, tune }).barLineRight;
    expect([1, 1.1, -1, 3].map((downbeat) => isRight(at(120, downbeat)))).toEqual([true, true, true, true]);
    expect([1.5, 2, 1.2].map((downbeat) => isRight(at(120, downbeat)))).toEqual([false, false, false]);
    expect(isRight(at(120, 1.5), 'auld-lang')).toBe(true);
    expect(isRight({ ...at(120), beatsPerBar: 2 })).toBe(false);
  });

  test('beats 71 ms late are all wrong, 69 ms late all right', () => {
    expect(madeRhythmRow('x', notes, at(120, 1.071), truth).beatF).toBe(0);
    expect(madeRhythmRow('x', notes, at(120, 1.069), truth).beatF).toBe(1);
  });

  test('a whole beat of shift is forgiven, half a beat and a wrong length are not', () => {
    const shifted = notes.map((note, i) => ({
      ...note,
      bar: 1 + Math.floor((i + 1) / 4),
      beat: 1 + ((i + 1) % 4),
    }));
    expect(madeRhythmRow('x', shifted, at(120), truth).startRight).toBe(8);
    const half = notes.map((note) => ({ ...note, beat: note.beat + 0.5 }));
    expect(madeRhythmRow('x', half, at(120), truth).startRight).toBe(0);
    const [first, ...rest] = notes;
    const row = madeRhythmRow('x', [{ ...first!, beats: 0.5 }, ...rest], at(120), truth);
    expect([row.startRight, row.lengthRight, row.bothRight]).toEqual([8, 7, 7]);
  });

  test('without beats nothing is right, and the table has a line a piece and one of totals', () => {
    const nowhere = notes.map((note) => ({ ...note, bar: null, beat: null, beats: null }));
    const row = madeRhythmRow('x', nowhere, null, truth);
    expect(row).toMatchObject({ bpm: null, tempoRight: false, metreRight: false, beatF: 0, bothRight: 0 });
    expect(madeRhythmText([row, row]).split('\n')).toHaveLength(4);
  });
});
