/** The engraved notation: every note is drawn once, in its bar, with its finger and name, whatever the key. */
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Melody } from '../../../src/melody.js';
import { inEveryKey } from '../../../src/pipeline/sheet-keys.js';
import { drawKeys } from '../../../src/write/sheet/draw-keys.js';
import { type Engrave, startEngraver } from '../../../src/write/sheet/engrave.js';
import { notationSvg } from '../../../src/write/sheet/notation-svg.js';
import { bareMelody, melodies } from '../melodies.js';
import { all, parseXml } from '../parse-xml.js';
import { inARow, score, scores } from '../scores.js';

let engrave: Engrave;
beforeAll(async () => {
  engrave = await startEngraver();
});

/** Numbers of the notes of all heads in an order, fingers, names. */
const shown = (melody: Melody) => {
  const { keys, glyphs } = drawKeys([melody], 'english', engrave);
  const bars = keys[0]!.lines.flatMap((line) => line.bars);
  const found = (pattern: RegExp, part: 'art' | 'words') =>
    bars.flatMap((bar) => [...bar[part].matchAll(pattern)].map(([, text]) => text!));
  return {
    bars,
    glyphs,
    lines: keys[0]!.lines,
    heads: found(/<g data-n="(\d+)"/g, 'art').map(Number),
    fingers: found(/class="finger"[^>]*>(\d)</g, 'words'),
    names: found(/class="name[^"]*"[^>]*>([^<]+)</g, 'words'),
    used: new Set(found(/href="#g-(\w+)"/g, 'art')),
  };
};

describe('the notation', () => {
  test('has every note of random scores once, tied heads apart, and fingers and names for each', () => {
    for (const melody of fc.sample(scores, { numRuns: 12, seed: 3 })) {
      const { heads, fingers, names, glyphs, used } = shown(melody);
      const numbers = melody.notes.map((_, i) => i + 1);
      expect([...new Set(heads)]).toEqual(numbers);
      expect(heads).toEqual([...heads].sort((a, b) => a - b));
      expect(fingers).toEqual(melody.notes.map(({ finger }) => String(finger)));
      expect(names).toHaveLength(melody.notes.length);
      for (const code of used) expect(glyphs.has(code)).toBe(true);
    }
  });

  test('gives a line its own pickup, in place of the bar before', () => {
    const notes = inARow(
      4,
      [1, 1],
      [
        ['C4', 1],
        ['D4', 1],
        ['E4', 1],
        ['G4', 1],
        ['C5', 4],
      ],
    );
    const { lines, heads } = shown(score([4, 4], notes, { lineStarts: [0, 3] }));
    expect(lines.map(({ bars }) => bars.length)).toEqual([1, 2]);
    expect(heads).toEqual([1, 2, 3, 4, 5]);
    const [pickup, bar] = lines[1]!.bars;
    expect(pickup!.art).toContain('data-n="4"');
    // Rests are the glyphs E4E0 and on.
    expect(pickup!.art).not.toContain('#g-E4E');
    expect(bar!.art).toContain('data-n="5"');
  });

  test('ends with a final bar line once', () => {
    const notes = inARow(
      4,
      [1, 1],
      [
        ['C4', 4],
        ['D4', 4],
        ['E4', 4],
        ['G4', 4],
      ],
    );
    const { lines } = shown(score([4, 4], notes, { lineStarts: [0, 2] }));
    const thick = lines.flatMap(({ bars }) => bars).map(({ art }) => art.includes('stroke-width="90"'));
    expect(thick).toEqual([false, false, false, true]);
  });

  test('draws a tie to its end in the next bar', () => {
    const { bars, heads } = shown(
      score(
        [4, 4],
        inARow(
          4,
          [1, 3],
          [
            ['C4', 4],
            ['D4', 2],
          ],
        ),
      ),
    );
    expect(heads).toEqual([1, 1, 2]);
    const curve = /<path d="M\d+,\d+ C[^"]+"/;
    expect(bars.map(({ art }) => curve.exec(art)?.[0])).toEqual([
      expect.any(String),
      curve.exec(bars[0]!.art)?.[0],
    ]);
  });

  test('keeps fingers clear of the ink under them', () => {
    for (const melody of fc.sample(scores, { numRuns: 5, seed: 9 })) {
      for (const { bars, top, bottom } of shown(melody).lines) {
        for (const { words } of bars) {
          const ys = [...words.matchAll(/class="finger" x="\S+" y="(\S+)"/g)].map(([, y]) => Number(y));
          for (const y of ys) {
            expect(y).toBeLessThan(900);
            expect(y - 240).toBeGreaterThanOrEqual(top);
            expect(y).toBeLessThan(bottom);
          }
        }
      }
    }
  });

  test('marks what is in doubt, and what it may be', () => {
    const notes = inARow(
      4,
      [1, 1],
      [
        ['C4', 1],
        ['F4', 1],
        ['G4', 2],
      ],
    );
    const melody = score([4, 4], notes);
    const doubt = { ...melody, notes: melody.notes.map((n, i) => (i === 1 ? { ...n, other: 66 } : n)) };
    expect(shown(doubt).names).toEqual(['C', 'F?', '(F♯4)', 'G']);
  });

  test('without a beat has heads in groups of six that rows may be broken between, and no bar lines', () => {
    const melody = bareMelody(
      Array.from({ length: 14 }, (_, i) => ({
        start: i,
        end: i + 0.9,
        midi: 60 + i,
        name: 'C4',
        line: i < 8 ? 1 : 2,
      })),
    );
    const { lines, heads } = shown(melody);
    expect(lines.map(({ bars }) => bars.length)).toEqual([2, 1]);
    expect(heads).toEqual(melody.notes.map((_, i) => i + 1));
  });
});

describe('the keys', () => {
  const tune = score(
    [4, 4],
    inARow(
      4,
      [1, 1],
      [
        ['C4', 1],
        ['E4', 1],
        ['F#4', 1],
        ['G4', 1],
        ['C5', 4],
      ],
    ),
    {
      melody: {
        scales: [
          {
            tonic: 'C',
            mode: 'major',
            score: 1,
            notes: [],
            outside: [],
            deciders: [],
            place: 1,
            rival: null,
            decidersAt: [],
            outsideAt: [],
          },
        ],
      },
    },
  );
  const signature = (art: string) => [...art.matchAll(/#g-E26(\d)/g)].map(([, kind]) => kind);

  test('are twelve, from a tritone down to a fourth up, and the melody itself among them', () => {
    const keys = inEveryKey(tune, 'medium');
    expect(keys.map(({ semitones }) => semitones)).toEqual([-6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5]);
    expect(keys[6]!.melody).toBe(tune);
    expect(keys[8]!.melody.notes.map(({ name }) => name)).toEqual(['D4', 'F#4', 'G#4', 'A4', 'D5']);
  });

  test('that would leave the keyboard are left out', () => {
    const low = { ...tune, notes: tune.notes.map((n) => ({ ...n, midi: n.midi - 58 })) };
    expect(inEveryKey(low, 'medium').map(({ semitones }) => semitones)).toEqual([-2, -1, 0, 1, 2, 3, 4, 5]);
  });

  test('have their own signatures: 2 is a sharp, 0 a flat by the last digit of the glyph', () => {
    const melodies = inEveryKey(tune, 'medium').map(({ melody }) => melody);
    const { keys } = drawKeys(melodies, 'english', engrave);
    const signatures = keys.map(({ frame }) => signature(frame.clef.art).join(''));
    // G flat, G, A flat, A, B flat, B, C, D flat, D, E flat, E, F: by the circle of fifths.
    expect(signatures).toEqual([
      '000000',
      '2',
      '0000',
      '222',
      '00',
      '22222',
      '',
      '00000',
      '22',
      '000',
      '2222',
      '0',
    ]);
  });

  test('that lie low are written in the bass clef, the same note in another place', () => {
    const scales = tune.scales;
    const low = score(
      [4, 4],
      inARow(
        4,
        [1, 1],
        [
          ['A3', 4],
          ['G3', 4],
          ['G3', 4],
        ],
      ),
      { melody: { scales } },
    );
    const moved = inEveryKey(low, 'medium').filter(({ semitones }) => [0, -2].includes(semitones));
    const { keys } = drawKeys(
      moved.map(({ melody }) => melody),
      'english',
      engrave,
    );
    // G3 is the second note in C, the first in B flat: under the treble staff, in the fourth space of the bass staff.
    const [bass, treble] = keys.map(({ frame, lines }, i) => {
      const y = Number(/#g-E0A2" x="\S+" y="(\d+)"/.exec(lines[0]!.bars[i]!.art)![1]);
      return { clef: /#g-(E0\d+)/.exec(frame.clef.art)![1], spaces: (y - Math.max(...frame.staff)) / 180 };
    });
    // Glyphs of the treble and bass clefs (Standard Music Font Layout: E050, E062).
    expect(treble).toEqual({ clef: 'E050', spaces: 2.5 });
    expect(bass).toEqual({ clef: 'E062', spaces: -3.5 });
  });

  test('that look alike are engraved once', () => {
    let measures = 0;
    const counting: Engrave = (xml) => {
      measures += xml.split('<measure').length - 1;
      return engrave(xml);
    };
    drawKeys(
      inEveryKey(tune, 'medium').map(({ melody }) => melody),
      'english',
      counting,
    );
    // The first bar has an accidental that differs from key to key, the second has one for each of eight letters and
    // octaves. The clef alone, the longest two signatures, the time behind a clef and behind a signature, and the start of
    // the strip come to these.
    expect(measures).toBeLessThanOrEqual(12 + 8 + 3 + 2 + 1);
  });
});

test('any melody can be drawn, on keys that no piano has too, and without beats', () => {
  for (const melody of fc.sample(melodies, { numRuns: 8, seed: 1 })) {
    const svg = notationSvg(melody, 'any', 'solfège', engrave);
    expect(all(parseXml(svg), 'g').filter(({ attributes }) => attributes['data-n'])).not.toEqual([]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  }
});

test('the file of the notation is whole XML, with the title as text', () => {
  const melody = score(
    [3, 4],
    inARow(
      3,
      [1, 1],
      Array.from({ length: 60 }, () => ['G4', 1] as const),
    ),
  );
  const svg = notationSvg(melody, `<A & "B">`, 'english', engrave);
  const root = parseXml(svg);
  expect(root.name).toBe('svg');
  expect(all(root, 'title')[0]!.text).toBe('<A & "B">');
  const known = new Set(all(root, 'path').map(({ attributes }) => attributes.id));
  const uses = all(root, 'use').map(({ attributes }) => attributes.href!.slice(1));
  expect(uses.length).toBeGreaterThan(60);
  for (const id of uses) expect(known.has(id)).toBe(true);
  // Twenty bars do not fit one row.
  const rows = all(root, 'svg').filter(({ attributes }) => attributes.class === 'row');
  expect(rows.length).toBeGreaterThan(2);
});
