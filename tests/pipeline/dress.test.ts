import { describe, expect, test } from 'vitest';
import { dressNotes, scaleEvidence } from '../../src/pipeline/dress.js';
import { linesFrom } from '../../src/rhythm/lines/lines.js';

const TUNE = [60, 62, 64, 65, 67, 64, 62, 60, 67, 69, 71, 72, 71, 69, 67, 65, 64, 62, 59, 60];

/** Notes of half a second, in lines of ten. */
function song(midis: readonly number[]) {
  const notes = midis.map((midi, i) => ({
    start: 0.5 * i,
    end: 0.5 * i + 0.4,
    midi,
    pitch: midi,
    confidence: 1,
    other: null,
  }));
  const starts = midis.flatMap((_, i) => (i % 10 === 0 ? [i] : []));
  return { notes, lines: linesFrom(notes, starts) };
}

const dressed = (midis: readonly number[], key: Parameters<typeof dressNotes>[2]['key'] = null) => {
  const { notes, lines } = song(midis);
  return dressNotes(notes, lines, { key, hand: 'medium' });
};

describe('dressNotes', () => {
  test('spells a passing note by where it goes', () => {
    const midis = [...TUNE, ...TUNE];
    midis.splice(3, 2, 66, 67);
    midis.splice(15, 2, 66, 65);
    expect(dressed(midis).notes[3]?.name).toBe('F#4');
    expect(dressed(midis).notes[15]?.name).toBe('Gb4');
  });

  test('spells the last chorus a semitone up in its own key, unless a key was given', () => {
    const up = TUNE.map((midi) => midi + 1);
    const midis = [...TUNE, ...TUNE, ...TUNE, ...up, ...up];
    const own = dressed(midis).notes.map((note) => note.name);
    expect(own.slice(0, 4)).toEqual(['C4', 'D4', 'E4', 'F4']);
    expect(own.slice(60, 64)).toEqual(['Db4', 'Eb4', 'F4', 'Gb4']);
    const given = dressed(midis, { tonic: 'C', mode: 'major' }).notes.map((note) => note.name);
    expect(given[63]).toBe('F#4');
  });

  test('keeps the eight best scales, and those of a given key first', () => {
    expect(dressed(TUNE).scales).toHaveLength(8);
    expect(dressed(TUNE, { tonic: 'F#', mode: 'major' }).scales[0]).toMatchObject({ tonic: 'F#', place: 1 });
  });
});

test('scaleEvidence marks line ends and measures the silence after each note', () => {
  const { notes, lines } = song(TUNE);
  const evidence = scaleEvidence(notes, lines);
  expect(evidence.flatMap((note, i) => (note.lineEnd ? [i] : []))).toEqual([9, 19]);
  expect(evidence[0]?.silenceAfter).toBeCloseTo(0.1);
  expect(evidence.at(-1)).not.toHaveProperty('silenceAfter');
});
