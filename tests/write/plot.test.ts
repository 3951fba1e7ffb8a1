import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { linePlot, melodyPlot } from '../../src/write/plot/plot.js';
import { heardPath, writtenPath } from '../../src/write/plot/plot-curve.js';
import { axis, ticks } from '../../src/write/plot/plot-scale.js';
import { fourLines, trackOf } from '../sheet/sheets.js';
import { all, parseXml } from './parse-xml.js';

describe('axes', () => {
  test('map their ends to the ends of the paper', () => {
    const pitch = axis([60, 72], [400, 40]);
    expect([60, 66, 72].map((key) => pitch.place(key))).toEqual([400, 220, 40]);
  });

  test('have ticks at round values inside, as many as fit', () => {
    expect(ticks(axis([0.3, 6.2], [0, 1]), 14)).toEqual([0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6]);
    expect(ticks(axis([118, 161], [0, 1]), 14)).toEqual([120, 125, 130, 135, 140, 145, 150, 155, 160]);
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 3000, noNaN: true }),
        fc.double({ min: 0.5, max: 3000, noNaN: true }),
        (from, length) => {
          const found = ticks(axis([from, from + length], [0, 1]), 14);
          expect(found.length).toBeLessThanOrEqual(15);
          for (const tick of found) expect(tick >= from - 0.051 && tick <= from + length + 0.051).toBe(true);
        },
      ),
    );
  });
});

const [time, pitch] = [axis([0, 4], [0, 4000]), axis([58, 70], [1200, 0])];

describe('curves', () => {
  const track = (keys: readonly (number | null)[]) => ({
    grid: { hopSeconds: 0.1, firstCentreSeconds: 0, frameCount: keys.length },
    pitch: Float32Array.from(keys, (key) => key ?? 60),
    voiced: Float32Array.from(keys, (key) => (key === null ? 0 : 1)),
    sounding: new Float32Array(keys.length),
    onset: new Float32Array(keys.length),
    levelDb: new Float32Array(keys.length),
  });

  test('what was heard breaks where nothing is sung and where it leaves the paper; a single frame is a dot', () => {
    expect(heardPath(track([60, 61, null, 60, 90, 62, 62]), 0, time, pitch)).toBe(
      'M0 1000l100 -100M300 1000h0M500 800l100 0',
    );
  });

  test('the tuning is taken out, so that what is sung in tune with itself lies on the keys', () => {
    expect(heardPath(track([60.25, 60.25]), 25, time, pitch)).toBe('M0 1000l100 0');
  });

  test('written notes are steps, joined where no silence is between them', () => {
    const notes = fourLines().notes.slice(0, 3);
    const at = (i: number, start: number, end: number, midi: number) => ({ ...notes[i]!, start, end, midi });
    expect(writtenPath([at(0, 0, 1, 60), at(1, 1.02, 2, 62), at(2, 3, 3.5, 64)], time, pitch)).toBe(
      'M0 1000H1000H1020V800H2000M3000 600H3500',
    );
  });
});

describe('the plot', () => {
  const melody = fourLines();

  test('of a song is whole XML with a panel a line, axes with units, and the title as text', () => {
    const root = parseXml(melodyPlot(melody, trackOf(melody), '<x> & "y"'));
    expect(all(root, 'title')[0]!.text).toBe('<x> & "y": pitch over time');
    const texts = all(root, 'text').map(({ text }) => text);
    expect(texts.filter((text) => text === 'time in the recording (seconds)')).toHaveLength(4);
    expect(texts.filter((text) => text === 'key (semitones)')).toHaveLength(4);
    expect(all(root, 'path').filter(({ attributes }) => attributes.class === 'heard')).toHaveLength(4);
  });

  test('names the keys of the notes, and marks the doubtful one with the other key', () => {
    const root = parseXml(linePlot(melody, trackOf(melody), 1));
    const texts = all(root, 'text').map(({ text }) => text);
    expect(texts).toEqual(expect.arrayContaining(['C4', 'D4', 'E4', 'F4', 'G4', '?']));
    expect(all(root, 'path').filter(({ attributes }) => attributes.class === 'other')).toHaveLength(1);
  });
});
