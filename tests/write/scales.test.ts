import { describe, expect, test } from 'vitest';
import { keyRegions } from '../../src/theory/regions.js';
import { rankScales } from '../../src/theory/scales.js';
import { scalesJson } from '../../src/write/scales/json.js';
import { keyboardPicture } from '../../src/write/scales/keyboard.js';
import { placesOf, stretchOf } from '../../src/write/scales/places.js';
import { scalesText } from '../../src/write/scales/text.js';
import type { PlacedNote, ScalesSheet } from '../../src/write/scales/types.js';

const PLAIN = { bold: (t: string) => t, dim: (t: string) => t, warn: (t: string) => t };

/** Eleven notes of C major and, unsure, an F#, in two lines of six; a second and a bar each. */
function sheet(): ScalesSheet {
  const midis = [60, 62, 64, 66, 67, 69, 71, 72, 67, 65, 62, 60];
  const evidence = midis.map((midi, i) => ({
    midi,
    weight: 1,
    lineEnd: i % 6 === 5,
    confidence: midi === 66 ? 0.2 : 1,
  }));
  return {
    notes: midis.map((midi, i) => ({ midi, line: i < 6 ? 1 : 2, bar: i + 1, start: i })),
    scales: rankScales(evidence),
    regions: [],
  };
}

describe('the keyboard', () => {
  test('has the names of the scale on its keys', () => {
    expect(keyboardPicture(['D', 'E', 'F#', 'G', 'A', 'B', 'C#'], { system: 'english' })).toEqual([
      '┌────┬─────┬─┬─────┬────┬────┬─────┬─┬─────┬─┬─────┬────┐',
      '│    │     │ │     │    │    │     │ │     │ │     │    │',
      '│    │ C#  │ │     │    │    │ F#  │ │     │ │     │    │',
      '│    └──┬──┘ └──┬──┘    │    └──┬──┘ └──┬──┘ └──┬──┘    │',
      '│       │  D*   │   E   │       │   G   │   A   │   B   │',
      '└───────┴───────┴───────┴───────┴───────┴───────┴───────┘',
    ]);
  });

  test('keeps its edges under the longest names', () => {
    const rows = keyboardPicture(['G#', 'A#', 'B', 'C#', 'D#', 'E', 'F##'], { system: 'solfège' });
    expect(rows.map((row) => row.length)).toEqual(new Array(6).fill(57));
    expect(rows[2]).toBe('│    │ do♯ │ │ re♯ │    │    │     │ │sol♯*│ │ la♯ │    │');
    expect(rows[4]).toContain('│ fa♯♯  │');
  });
});

describe('places', () => {
  const at = (line: number | null, bar: number | null, start: number | null): PlacedNote => ({
    midi: 60,
    line,
    bar,
    start,
  });

  test('are named as far as they are known', () => {
    expect(placesOf([1], [at(2, 5, 12.34)])).toBe('line 2 bar 5 (0:12.3)');
    expect(placesOf([1], [at(2, null, 12.34)])).toBe('line 2 (0:12.3)');
    expect(placesOf([2], [at(null, null, null), at(null, null, null)])).toBe('note 2');
  });

  test('are counted from the fourth on', () => {
    const notes = Array.from({ length: 5 }, () => at(null, null, null));
    expect(placesOf([1, 2, 3], notes)).toBe('note 1, note 2, note 3');
    expect(placesOf([1, 2, 3, 4, 5], notes)).toBe('note 1, note 2, note 3 and 2 more');
  });

  test('stretches reach from line to line and bar to bar', () => {
    const notes = [at(1, 0, 0.5), at(3, 8, 20), at(3, 8, 21)];
    expect(stretchOf(1, 2, notes)).toBe('lines 1–3, bars 0–8, from 0:00.5');
    expect(stretchOf(2, 3, notes)).toBe('line 3, bar 8, from 0:20.0');
    expect(stretchOf(1, 2, [at(null, null, null), at(null, null, null)])).toBe('notes 1–2');
  });
});

describe('the text', () => {
  test('says what is held, what is not and where, and what may be a mishearing', () => {
    const text = scalesText(sheet(), PLAIN, { width: 100, top: 1, names: 'english' });
    expect(text).toContain('   holds C D E F G A B\n   does not hold F#: line 1 bar 4 (0:03.0)\n');
    expect(text).toContain(
      '   F# may be a mishearing, check by ear: line 1 bar 4 (0:03.0); F and G are next to it in this scale\n',
    );
    expect(text).toMatch(/ {3}against [A-G].*: .* speaks for it: line /);
  });

  test('says which notes outside a minor scale the other minors lend it', () => {
    const midis = [64, 67, 69, 71, 72, 71, 69, 66, 62, 64, 66, 67, 64, 64, 63, 64, 61, 63, 64];
    const scales = rankScales(
      midis.map((midi, i) => ({ midi, weight: 1, lineEnd: i === 18, confidence: 1 })),
      { tonic: 'E', mode: 'minor' },
    );
    const notes = midis.map((midi) => ({ midi, line: null, bar: null, start: null }));
    const told = (top: number) =>
      scalesText({ notes, scales, regions: [] }, PLAIN, { width: 200, top, names: 'english' });
    expect(told(1)).toContain(
      '   C# and D# belong to the other minor scales on the same tonic, which lend each other notes\n',
    );
    const major = rankScales([], { tonic: 'G', mode: 'major' }).slice(0, 1);
    expect(
      scalesText({ notes, scales: major, regions: [] }, PLAIN, { width: 200, top: 1, names: 'english' }),
    ).not.toContain('lend');
  });

  test('names notes in other systems, degrees from the tonic of each scale', () => {
    const text = scalesText(sheet(), PLAIN, { width: 100, top: 2, names: 'degrees' });
    expect(text).toContain('   holds 1 2 3 4 5 6 7\n   does not hold ♯4: line 1 bar 4');
    expect(scalesText(sheet(), PLAIN, { width: 100, top: 1, names: 'german' })).toContain('C D E F G A H');
  });

  test('has the regions of a song that changes its key, each with its ranking', () => {
    const midis = [60, 62, 64, 65, 67, 69, 71, 72, 67, 65, 62, 60];
    const up = midis.map((m) => m + 1);
    const song = [...midis, ...midis, ...midis, ...up, ...up];
    const evidence = song.map((midi, i) => ({ midi, weight: 1, lineEnd: i % 12 === 11, confidence: 1 }));
    const whole = {
      notes: song.map((midi, i) => ({ midi, line: Math.floor(i / 12) + 1, bar: null, start: null })),
      scales: rankScales(evidence),
      regions: keyRegions(evidence),
    };
    const text = scalesText(whole, PLAIN, { width: 200, top: 1, names: 'english' });
    expect(text).toMatch(
      /the key changes\n {3}lines 1–3: C major \(\d+ %\); then .*\n {3}lines 4–5: Db major/,
    );
    expect(JSON.parse(scalesJson(whole, 2)).regions[1].scales).toHaveLength(2);
  });

  test('fits its width, and leaves the picture out where it has no room', () => {
    for (const width of [40, 58, 59, 72, 100]) {
      const text = scalesText(sheet(), PLAIN, { width, top: 20, names: 'solfège' });
      expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(width);
      expect(text.includes('┌')).toBe(width >= 59);
    }
  });
});

test('JSON is read back by any parser, with the fields of the melody’s scales', () => {
  const { scales, notes } = JSON.parse(scalesJson(sheet(), 3));
  expect(scales).toHaveLength(3);
  expect(scales[0]).toMatchObject({ tonic: 'C', mode: 'major', outside: ['F#'], place: 1 });
  expect(scales[0].outsideAt).toEqual([{ name: 'F#', numbers: [4], doubtful: [4], nextTo: ['F', 'G'] }]);
  expect(notes[3]).toEqual({ midi: 66, line: 1, bar: 4, start: 3 });
});
