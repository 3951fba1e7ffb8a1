import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { screenLayout } from '../../src/write/screen/screen.js';
import { bareMelody, golden, melodies, TWO_LINES, timedMelodies } from './melodies.js';

const PLAIN = { bold: (t: string) => t, dim: (t: string) => t, warn: (t: string) => t };
const TAGGED = {
  bold: (t: string) => `<b>${t}</b>`,
  dim: (t: string) => `<d>${t}</d>`,
  warn: (t: string) => `<w>${t}</w>`,
};

describe('layout for the screen', () => {
  test('is laid out as worked out by hand', () => {
    expect(screenLayout(TWO_LINES, PLAIN, { width: 60 })).toBe(
      readFileSync(golden('two-lines.screen.txt'), 'utf8'),
    );
  });

  test('is the same text whether painted or not', () => {
    fc.assert(
      fc.property(fc.oneof(melodies, timedMelodies), fc.integer({ min: 40, max: 120 }), (melody, width) => {
        const painted = screenLayout(melody, TAGGED, { width });
        const bare = painted.replace(/<\/?[bdw]>/g, '').replace(/ +$/gm, '');
        expect(bare).toBe(screenLayout(melody, PLAIN, { width }));
      }),
    );
  });

  test('marks doubtful notes in the warning colour', () => {
    expect(screenLayout(TWO_LINES, TAGGED, { width: 60 })).toContain('<w>A4?</w>');
  });

  test('fits any width from 60 columns, and shows every note and finger', () => {
    fc.assert(
      fc.property(melodies, fc.integer({ min: 60, max: 120 }), (melody, width) => {
        const lines = screenLayout(melody, PLAIN, { width }).split('\n');
        expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
        const words = lines.filter((line) => /^ {2}[A-G]/.test(line) && !line.includes('(')).join(' ');
        expect(
          words
            .trim()
            .split(/\s+/)
            .map((word) => word.replace('?', '')),
        ).toEqual(melody.notes.map((n) => n.name));
      }),
    );
  });

  test('wraps a long line of the song, fingers above the names in each row', () => {
    const notes = Array.from({ length: 20 }, (_, i) => ({
      start: i,
      end: i + 1,
      midi: 70,
      pitch: 70,
      name: 'Bb4',
      finger: ((i % 5) + 1) as 1 | 2 | 3 | 4 | 5,
    }));
    const rowsAt = (width: number) => screenLayout(bareMelody(notes), PLAIN, { width }).split('\n');
    const rows = rowsAt(60);
    // 12 cells of 5 columns, the last without its gap, after 2 spaces: 2 + 12·5 − 2 = 60.
    expect(rows[1]).toBe('  1    2    3    4    5    1    2    3    4    5    1    2');
    expect(rows[2]).toBe(`  ${Array(12).fill('Bb4').join('  ')}`);
    expect([rowsAt(64)[2]!.length, rowsAt(65)[2]!.length]).toEqual([60, 65]);
    expect(rows[4]).toBe(`  ${Array(8).fill('Bb4').join('  ')}`);
  });

  test('marks the fingers where the hand moves, and says what the mark means', () => {
    const notes = [{ finger: 2 as const }, { start: 1, end: 2, finger: 1 as const }];
    const still = bareMelody(notes);
    expect(screenLayout(still, PLAIN)).not.toContain('>');
    const hand = [
      { first: 1, thumb: 59 },
      { first: 2, thumb: 60 },
    ];
    const text = screenLayout({ ...still, hand }, PLAIN);
    expect(text.split('\n')[1]).toBe('  2   >1');
    expect(text).toContain('> before a finger: the hand moves');
  });

  test('leaves out what is not known, and rounds times that pass a minute', () => {
    const text = screenLayout(bareMelody([{ start: 59.96, end: 125.04 }]), PLAIN);
    expect(text).toContain('line 1 · 1:00.0–2:05.0\n');
    expect(text).toContain('\nno steady beat was heard: lengths are in seconds\ntuning: ');
    expect(text).not.toMatch(/tempo|bar|section/);
    expect(text).not.toContain('scales');
    expect(text).toContain('tuning: in tune with a piano');
  });

  test('says for which scale a decider speaks', () => {
    const [f] = TWO_LINES.scales;
    const sung = { ...f!, decidersAt: [f!.decidersAt[0]!, { name: 'Eb', numbers: [2] }] };
    const spoken = screenLayout({ ...TWO_LINES, scales: [sung] }, PLAIN, { width: 200 });
    expect(spoken).toContain('Eb speaks for Bb major; E, not sung, would tell it from Bb major\n');
    const own = { ...f!, decidersAt: [{ name: 'E', numbers: [2] }] };
    const text = screenLayout({ ...TWO_LINES, scales: [own] }, PLAIN, { width: 200 });
    expect(text).toContain('holds every note; E speaks for it, not for Bb major\n');
  });

  test('says the bars of each line, its section where there are several, and the line that it repeats', () => {
    const at = (line: number, bar: number, beat: number, beats: number) => ({ line, bar, beat, beats });
    const melody = bareMelody(
      [at(1, 0, 3, 1), at(1, 1, 1, 3), at(2, 2, 1, 3), at(2, 3, 2, 3), at(3, 5, 1, 2), at(3, 5, 3, 1)],
      {
        tempo: { bpm: 91.6, beats: [] },
        meter: { beatsPerBar: 3, beatUnit: 4, firstDownbeat: 0 },
        lines: [1, 3, 5].map((first, i) => ({
          start: i,
          end: i + 1,
          first,
          last: first + 1,
          like: i === 2 ? 1 : null,
        })),
        sections: [
          { letter: 'A', first: 1, last: 1 },
          { letter: 'B', first: 2, last: 3 },
        ],
      },
    );
    const headings = (width: number) =>
      screenLayout(melody, PLAIN, { width }).match(/^line .*(\n {2}[a-z].*)?$/gm);
    expect(headings(80)).toEqual([
      'line 1 · 0:00.0–0:01.0 · bars 0–1 · section A',
      // The last note begins in bar 3 and lasts into bar 4.
      'line 2 · 0:01.0–0:02.0 · bars 2–4 · section B',
      'line 3 · 0:02.0–0:03.0 · bar 5 · section B · like line 1',
    ]);
    expect(headings(40)![2]).toBe('line 3 · 0:02.0–0:03.0 · bar 5 ·\n  section B · like line 1');
    expect(screenLayout(melody, PLAIN)).toContain('\ntempo: 92 beats a minute, 3/4\n');
  });

  test('counts eighths where they are the beat, and says when the tempo is not even', () => {
    const tempo = (beats: number[]) =>
      screenLayout(
        bareMelody([{}], {
          tempo: { bpm: 120, beats },
          meter: { beatsPerBar: 6, beatUnit: 8, firstDownbeat: 0 },
        }),
        PLAIN,
      ).match(/tempo.*/)![0];
    expect(tempo([0, 0.5, 1, 1.5])).toBe('tempo: 120 eighths a minute, 6/8');
    expect(tempo([0, 0.5, 1, 1.6])).toBe('tempo: about 120 eighths a minute, 6/8');
  });

  test('gives the caution once, at the end', () => {
    const text = screenLayout(TWO_LINES, PLAIN, { width: 200 });
    expect(text.match(/stop when it hurts/g)).toHaveLength(1);
    expect(text.trimEnd().split('\n').at(-1)).toMatch(/^Rest often/);
  });
});
