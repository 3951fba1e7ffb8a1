import { describe, expect, test } from 'vitest';
import { type Labels, OUTPUTS, targetsOf, UNKNOWN } from './targets.js';
import { readPitchLines, readTruth } from './truth.js';

const grid = { hopSeconds: 0.01, firstCentreSeconds: 0, frameCount: 100 };
const column = (labels: Labels, output: number): number[] =>
  Array.from({ length: grid.frameCount }, (_, i) => targetsOf(labels, grid)[i * OUTPUTS + output]);
const notes = (list: [number, number][], lateSeconds = 0): Labels => ({
  notes: list.map(([start, end]) => ({ start, end })),
  lateSeconds,
  voiced: null,
});

describe('targets', () => {
  test('the onset is a bump of 15 ms around where the label says, less what the label is late', () => {
    const onset = column(notes([[0.5, 0.8]], 0.02), 0);
    expect(onset[48]).toBeCloseTo(1, 9);
    // One deviation away a Gaussian has fallen to exp(−1/2) = 0.6065, two away to exp(−2) = 0.1353.
    expect(column(notes([[0.515, 0.8]]), 0)[50]).toBeCloseTo(0.6065, 4);
    expect(onset[51]).toBeCloseTo(0.1353, 4);
    expect(onset[42]).toBe(0);
    expect(onset[54]).toBe(0);
  });

  test('a note sounds from its start, the end left out', () => {
    const sounding = column(notes([[0.205, 0.3]]), 1);
    expect(sounding.flatMap((v, i) => (v === 1 ? [i] : []))).toEqual([21, 22, 23, 24, 25, 26, 27, 28, 29]);
  });

  test('of two near onsets each keeps its own peak, and notes beyond the recording do no harm', () => {
    const onset = column(
      notes([
        [-0.3, 0.1],
        [0.5, 0.53],
        [0.53, 0.6],
        [0.98, 5],
      ]),
      0,
    );
    expect(onset[50]).toBe(1);
    expect(onset[53]).toBeCloseTo(1, 9);
    expect(onset.slice(0, 10)).toEqual(new Array(10).fill(0));
  });

  test('what is not known stays unknown, frame by frame', () => {
    const labels: Labels = {
      notes: null,
      lateSeconds: 0,
      voiced: { firstSeconds: 0.02, hopSeconds: 0.02, values: [true, false] },
    };
    expect(column(labels, 0).every((v) => v === UNKNOWN)).toBe(true);
    expect(column(labels, 1).every((v) => v === UNKNOWN)).toBe(true);
    // Values stand at 20 and 40 ms; before and after them nothing is known.
    const voiced = column(labels, 2);
    expect([0, 2, 4, 6, 99].map((i) => voiced[i])).toEqual([UNKNOWN, 1, 0, UNKNOWN, UNKNOWN]);
    expect(column(notes([[0.1, 0.2]]), 2).every((v) => v === UNKNOWN)).toBe(true);
  });
});

describe('truth files', () => {
  test('times are start and end or on and off, and only voices count as late', () => {
    const both = [
      readTruth('{"notes":[{"start":1,"end":2,"midi":60}],"title":"x"}', 'hummed-1'),
      readTruth('{"notes":[{"on":1,"off":2,"midi":60.3}],"kind":"piano"}', 'piano-1'),
    ];
    expect(both.map((labels) => labels.notes)).toEqual([[{ start: 1, end: 2 }], [{ start: 1, end: 2 }]]);
    expect(both.map((labels) => labels.lateSeconds)).toEqual([0.01, 0]);
    expect(both[0].voiced).toBeNull();
  });

  test('a pitch every 10 ms tells where a voice sounds', () => {
    expect(readTruth('{"notes":[],"f0Hz":[0,220,0]}', 'sung').voiced).toEqual({
      firstSeconds: 0,
      hopSeconds: 0.01,
      values: [false, true, false],
    });
  });

  test('pitch lines start at 20 ms', () => {
    expect(readPitchLines('0\n60.5\n', 'a.pv').voiced).toEqual({
      firstSeconds: 0.02,
      hopSeconds: 0.02,
      values: [false, true],
    });
  });

  test('what is no truth is an error that names it', () => {
    expect(() => readTruth('{"notes":[{"start":1}]}', 'a')).toThrow('a.truth.json');
    expect(() => readTruth('{"notes":', 'b')).toThrow('b.truth.json');
    expect(() => readPitchLines('0\nx\n', 'a.pv')).toThrow('a.pv: line 2');
  });
});
