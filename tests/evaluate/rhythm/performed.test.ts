import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/maker/random.js';
import { perform, performedReport, scorePerformed, writtenMelodies } from './performed.js';

/** Bars of four that leave no doubt: long notes on the first beat, eighths and sixteenths after it. */
const SONG = JSON.stringify({
  notes: Array.from({ length: 16 }, () => [
    [60, 6],
    [62, 2],
    [64, 2],
    [65, 2],
    [67, 1],
    [65, 1],
    [64, 2],
  ]).flat(),
});

describe('performances of written melodies', () => {
  test('rests pass the time, sixteenths are quarters of a beat', () => {
    expect(writtenMelodies('{"notes":[[0,4],[60,2],[0,2],[62,8]]}\n')).toEqual([
      [
        { start: 1, length: 0.5, midi: 60 },
        { start: 2, length: 2, midi: 62 },
      ],
    ]);
  });

  test('a performance is at 60 to 140, near its places, in order, each note half its length or more', () => {
    const written = writtenMelodies(SONG)[0]!;
    const { bpm, notes } = perform(written, seededRandom(5));
    expect(bpm).toBeGreaterThanOrEqual(60);
    expect(bpm).toBeLessThanOrEqual(140);
    const lead = notes[0]!.start;
    notes.forEach((note, i) => {
      // Two jitters of at most 2.5 · 20 ms.
      expect(Math.abs(note.start - lead - (written[i]!.start * 60) / bpm)).toBeLessThanOrEqual(0.1);
      expect(note.start).toBeGreaterThan(notes[i - 1]?.start ?? Number.NEGATIVE_INFINITY);
      const share = (note.end - note.start) / ((written[i]!.length * 60) / bpm);
      expect(share).toBeGreaterThanOrEqual(0.5);
      expect(share).toBeLessThanOrEqual(1);
    });
  });

  test('a clear song comes back', () => {
    const row = scorePerformed(writtenMelodies(SONG)[0]!, seededRandom(2));
    expect(row.notes).toBe(112);
    expect(row.tempoRight && row.metreRight).toBe(true);
    expect(row.right / row.notes).toBeGreaterThan(0.97);
    expect(row.octaveForgiven).toBeGreaterThanOrEqual(row.right);
    expect(row.right).toBeGreaterThanOrEqual(row.inTheBar);
  });

  test('a folder without the songs has no report', () => {
    expect(performedReport('/nowhere')).toBeNull();
  });
});
