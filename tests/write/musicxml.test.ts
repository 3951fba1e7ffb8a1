import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Melody } from '../../src/melody.js';
import type { Key } from '../../src/theory/types.js';
import { melodyMusicXml } from '../../src/write/score/musicxml.js';
import { bareMelody, golden, TWO_LINES } from './melodies.js';
import { all, type Node, parseXml, textOf } from './parse-xml.js';
import { inARow, score, scores } from './scores.js';

const F_MAJOR: Key = { tonic: 'F', mode: 'major' };
const C_MAJOR: Key = { tonic: 'C', mode: 'major' };
const root = (melody: Melody, key: Key | null = C_MAJOR, title = 'Song') =>
  parseXml(melodyMusicXml(melody, { title, key }));

/** A bar in letters: `G4 quarter.`, `r half`, `~` before a note tied to, `3` for one of a triplet, accidentals by name. */
const shown = (bar: Node) =>
  bar.children
    .filter(({ name }) => name === 'note')
    .map((note) => {
      const tied = all(note, 'tie').some(({ attributes }) => attributes.type === 'stop') ? '~' : '';
      const pitch = textOf(note, 'step') === null ? 'r' : `${textOf(note, 'step')}${textOf(note, 'octave')}`;
      const value = `${textOf(note, 'type') ?? 'bar'}${all(note, 'dot').map(() => '.')}`;
      const grace = all(note, 'grace').length > 0 ? ' grace' : '';
      const three = all(note, 'time-modification').length > 0 ? ' 3' : '';
      const accidental = textOf(note, 'accidental');
      return `${tied}${pitch} ${value}${three}${grace}${accidental === null ? '' : ` ${accidental}`}`;
    })
    .join(', ');
const bars = (melody: Melody, key?: Key) => all(root(melody, key), 'measure').map(shown);

describe('MusicXML', () => {
  test('is written as checked by hand', () => {
    expect(melodyMusicXml(TWO_LINES, { title: 'Two & "two"', key: F_MAJOR })).toBe(
      readFileSync(golden('two-lines.musicxml'), 'utf8'),
    );
  });

  test('begins bar 0 with a pickup, not counted, and ties over the bar line', () => {
    const melody = score(
      [3, 4],
      inARow(
        3,
        [0, 3],
        [
          ['C4', 1],
          ['F4', 4],
          ['G4', 2],
        ],
      ),
    );
    expect(bars(melody)).toEqual(['C4 quarter', 'F4 half.', '~F4 quarter, G4 half']);
    const measures = all(root(melody), 'measure').map(({ attributes }) => attributes);
    expect(measures).toEqual([{ number: '0', implicit: 'yes' }, { number: '1' }, { number: '2' }]);
  });

  test('writes the bars before the first note as rests', () => {
    expect(bars(score([2, 4], [['C4', 3, 2, 1]]))).toEqual(['r bar', 'r bar', 'r quarter, C4 quarter']);
  });

  test('writes accidentals where the bar needs them, and none behind a tie over the bar line', () => {
    const melody = score(
      [4, 4],
      inARow(
        4,
        [1, 1],
        [
          ['B4', 0.5],
          ['B4', 0.5],
          ['B3', 0.5],
          ['Bb4', 1],
          ['F#4', 2.5],
          ['F#4', 1],
          ['Bb4', 2],
        ],
      ),
    );
    expect(bars(melody, F_MAJOR)).toEqual([
      'B4 eighth natural, B4 eighth, B3 eighth natural, B4 eighth flat, ~B4 eighth, F4 quarter. sharp',
      '~F4 quarter, F4 quarter sharp, B4 half',
    ]);
  });

  test('writes triplets with their brackets, each closed, without one where a beam shows them', () => {
    const t = 1 / 3;
    const melody = score(
      [2, 4],
      inARow(
        2,
        [1, 1],
        [
          ['C4', t],
          ['D4', t],
          ['E4', t],
          ['F4', 2 * t],
          ['G4', t],
          ['A4', t],
          [null, 2 * t],
          ['A4', 1 + t],
        ],
      ),
    );
    expect(bars(melody)).toEqual([
      'C4 eighth 3, D4 eighth 3, E4 eighth 3, F4 quarter 3, G4 eighth 3',
      'A4 eighth 3, r eighth 3, r eighth 3, A4 quarter',
      '~A4 eighth 3, r eighth 3, r eighth 3, r quarter',
    ]);
    const tuplets = all(root(melody), 'tuplet').map(({ attributes: a }) => `${a.type} ${a.bracket ?? ''}`);
    expect(tuplets).toEqual([
      'start no',
      'stop ',
      'start yes',
      'stop ',
      'start yes',
      'stop ',
      'start yes',
      'stop ',
    ]);
  });

  test('joins eighths and sixteenths inside a beat, and three eighths of 6/8, with hooks for odd ones', () => {
    const beams = (melody: Melody) =>
      all(root(melody), 'note').map((note) =>
        all(note, 'beam')
          .map(({ text }) => text)
          .join('+'),
      );
    const lengths = [0.75, 0.25, 0.25, 0.75, 0.5, 0.25, 0.25].map((beats) => ['C4', beats] as const);
    expect(beams(score([3, 4], inARow(3, [1, 1], lengths)))).toEqual([
      'begin',
      'end+backward hook',
      'begin+forward hook',
      'end',
      'begin',
      'continue+begin',
      'end+end',
    ]);
    const eighths = [1, 1, 1, 2, 1].map((beats) => ['C4', beats] as const);
    expect(beams(score([6, 8], inARow(6, [1, 1], eighths)))).toEqual(['begin', 'continue', 'end', '', '']);
  });

  test('counts a tempo in quarters, dotted quarters of 6/8 or eighths, and says it again where it drifts', () => {
    const tempos = (melody: Melody) => [
      ...all(root(melody), 'per-minute').map(({ text }) => text),
      ...all(root(melody), 'sound').map(({ attributes }) => attributes.tempo),
      all(root(melody), 'beat-unit').map(({ text }) => text)[0],
      all(root(melody), 'beat-unit-dot').length,
    ];
    expect(tempos(score([4, 4], [['C4', 1, 1, 4]]))).toEqual(['120', '120', 'quarter', 0]);
    // 120 eighths a minute are 40 dotted quarters, and 60 quarters.
    expect(tempos(score([6, 8], [['C4', 1, 1, 6]]))).toEqual(['40', '60', 'quarter', 1]);
    expect(tempos(score([5, 8], [['C4', 1, 1, 5]]))).toEqual(['120', '60', 'eighth', 0]);
    // Two bars of half seconds, one of 0.51 s (2 % slower: not said), then 0.6 s.
    const beats = [2, 2.5, 3, 3.5, 4, 4.51, 5.02, 5.62, 6.22];
    const slower = score([2, 4], inARow(2, [1, 1], Array(4).fill(['C4', 2])), {
      melody: { tempo: { bpm: 120, beats } },
    });
    expect(tempos(slower)).toEqual(['120', '100', '120', '100', 'quarter', 0]);
    const shownMarks = all(root(slower), 'metronome').map(({ attributes }) => attributes['print-object']);
    expect(shownMarks).toEqual([undefined, 'no']);
    // Players read the tempo of the melody, programs that of each bar.
    const middling = score([2, 4], inARow(2, [1, 1], Array(4).fill(['C4', 2])), {
      melody: { tempo: { bpm: 110, beats } },
    });
    expect(tempos(middling)).toEqual(['110', '100', '120', '100', 'quarter', 0]);
  });

  test('takes the tempo of a pickup from its own beats, and counts bars from the first downbeat', () => {
    // Bar 0 of four beats, three of a second and one of half a second; the song begins with the last.
    const beats = [0, 1, 2, 3, 3.5, 4, 4.5, 5, 5.5];
    const melody = score(
      [4, 4],
      inARow(
        4,
        [0, 4],
        [
          ['C4', 1],
          ['D4', 4],
        ],
      ),
      {
        melody: { tempo: { bpm: 120, beats }, meter: { beatsPerBar: 4, beatUnit: 4, firstDownbeat: 3.5 } },
      },
    );
    expect(all(root(melody), 'sound').map(({ attributes }) => attributes.tempo)).toEqual(['120']);
  });

  test.each([
    // The modes that MusicXML names (musicxml.xsd, "mode"), each with its signature from any primer.
    ['D', 'dorian', '0', 'dorian'],
    ['E', 'phrygian', '0', 'phrygian'],
    ['F', 'lydian', '0', 'lydian'],
    ['C', 'mixolydian', '-1', 'mixolydian'],
    ['B', 'locrian', '0', 'locrian'],
    ['F', 'major pentatonic', '-1', 'major'],
    ['C#', 'harmonic minor', '4', 'minor'],
    ['G', 'melodic minor', '-2', 'minor'],
    ['E', 'minor pentatonic', '1', 'minor'],
    ['Bb', 'blues', '-5', 'minor'],
  ] as const)('writes the signature and the mode of %s %s', (tonic, mode, fifths, word) => {
    const score = root(TWO_LINES, { tonic, mode });
    expect([textOf(score, 'fifths'), textOf(score, 'mode')]).toEqual([fifths, word]);
  });

  test('begins a system with each line, past the middle of a shared bar with the next', () => {
    const names = Array(6).fill(['C4', 1]);
    const systems = (at: number) =>
      all(root(score([4, 4], inARow(4, [1, 1], names), { lineStarts: [0, at] })), 'measure').map(
        (bar) => all(bar, 'print').length,
      );
    expect([systems(2), systems(3), systems(4)]).toEqual([
      [0, 0],
      [0, 1],
      [0, 1],
    ]);
  });

  test('writes a note that has no room beside the next as a grace note, and cuts overlaps', () => {
    const melody = score(
      [2, 4],
      [
        ['C4', 1, 1, 2],
        ['D4', 1, 1.5, 1],
        ['E4', 1, 1.51, 0.5],
        ['F4', 1, 1.2, 0.5],
      ],
    );
    expect(bars(melody)).toEqual(['C4 eighth, D4 eighth grace, E4 eighth grace, F4 16th, r 16th, r quarter']);
  });

  test('without a beat writes heads without stems, white for long notes, a measure a line, and says so', () => {
    const melody = bareMelody([
      { end: 0.5 },
      { start: 0.5, end: 1 },
      { start: 1, end: 3, name: 'F#4', midi: 66, line: 2, other: 65 },
    ]);
    const score = root(melody, null);
    expect(all(score, 'measure').map(shown)).toEqual(['C4 quarter, C4 quarter', 'F4 half sharp']);
    expect(all(score, 'stem').map(({ text }) => text)).toEqual(['none', 'none', 'none']);
    expect([
      all(score, 'senza-misura').length,
      all(score, 'beats').length,
      all(score, 'sound').length,
    ]).toEqual([1, 0, 0]);
    expect(all(score, 'words').map(({ text }) => text)).toEqual([
      'no steady beat was heard: lengths are not written',
      'line 1',
      'line 2',
      'F4?',
    ]);
    expect(all(root(bareMelody([]), null), 'rest')).toHaveLength(1);
  });

  test('escapes titles, and drops what XML cannot hold', () => {
    const title = '<a> & "b"\u0000\u0007\n\uD800\uFFFF ♪ 𝄞';
    expect(textOf(root(TWO_LINES, F_MAJOR, title), 'work-title')).toBe(
      '<a> & "b"   ♪ 𝄞'.replace('   ', '  '),
    );
  });

  test('takes the bass clef for a low line', () => {
    const sign = (name: string) => textOf(root(score([4, 4], [[name, 1, 1, 4]])), 'sign');
    expect([sign('F#3'), sign('G3')]).toEqual(['F', 'G']);
  });
});

/** Children of these elements in the order of the schema (musicxml.xsd 4.0: note, attributes, direction, measure parts). */
const ORDER: Readonly<Record<string, readonly string[]>> = {
  'score-partwise': ['work', 'identification', 'part-list', 'part'],
  attributes: ['divisions', 'key', 'time', 'clef'],
  direction: ['direction-type', 'sound'],
  metronome: ['beat-unit', 'beat-unit-dot', 'per-minute'],
  'score-part': ['part-name', 'score-instrument', 'midi-instrument'],
  pitch: ['step', 'alter', 'octave'],
  'time-modification': ['actual-notes', 'normal-notes', 'normal-type'],
  note: [
    ...['grace', 'pitch', 'rest', 'duration', 'tie', 'voice', 'type', 'dot', 'accidental'],
    ...['time-modification', 'stem', 'beam', 'notations'],
  ],
};

/** Quarters of the values, from the tables of any primer. */
const QUARTERS: Readonly<Record<string, number>> = {
  breve: 8,
  whole: 4,
  half: 2,
  quarter: 1,
  eighth: 0.5,
  '16th': 0.25,
  '32nd': 0.125,
};

const walk = (node: Node): Node[] => [node, ...node.children.flatMap(walk)];
const durationOf = (note: Node) => Number(textOf(note, 'duration') ?? 0);

describe('MusicXML of any melody', () => {
  test('has the children of each element in the order of the schema', () => {
    fc.assert(
      fc.property(scores, (melody) => {
        for (const node of walk(root(melody))) {
          const order = ORDER[node.name];
          if (order === undefined) continue;
          const places = node.children.map(({ name }) => order.indexOf(name));
          expect(places).toEqual(places.toSorted((a, b) => a - b));
          expect(places).not.toContain(-1);
        }
      }),
    );
  });

  test('fills every bar, with values that last as long as they look', () => {
    fc.assert(
      fc.property(scores, (melody) => {
        const { beatsPerBar, beatUnit } = melody.meter;
        const score = root(melody);
        const divisions = Number(textOf(score, 'divisions'));
        for (const bar of all(score, 'measure')) {
          const notes = all(bar, 'note');
          const filled = notes.reduce((sum, note) => sum + durationOf(note), 0);
          const full = (beatsPerBar! * 4 * divisions) / beatUnit!;
          if (bar.attributes.implicit) expect(filled).toBeLessThanOrEqual(full);
          else expect(filled).toBe(full);
          for (const note of notes.filter((n) => textOf(n, 'type') !== null && durationOf(n) > 0)) {
            const dotted = all(note, 'dot').length === 1 ? 1.5 : 1;
            const third = all(note, 'time-modification').length === 1 ? 2 / 3 : 1;
            expect(durationOf(note)).toBeCloseTo(
              QUARTERS[textOf(note, 'type')!]! * dotted * third * divisions,
              9,
            );
          }
        }
      }),
    );
  });

  test('gives the notes back: starts, lengths, keys by accidentals in force, a finger each, every tie paired', () => {
    fc.assert(
      fc.property(
        scores,
        fc.constantFrom(F_MAJOR, C_MAJOR, { tonic: 'E', mode: 'major' } as Key),
        (melody, key) => {
          expect(soundsOf(root(melody, key), key)).toEqual(
            melody.notes.map((n) => ({
              beat: rounded((n.bar! - 1) * melody.meter.beatsPerBar! + n.beat! - 1),
              beats: rounded(n.beats!),
              midi: n.midi,
              finger: n.finger,
            })),
          );
        },
      ),
    );
  });

  test('closes every bracket and every beam that it opens', () => {
    fc.assert(
      fc.property(scores, (melody) => {
        for (const bar of all(root(melody), 'measure')) {
          let open = false;
          const beams = [false, false, false];
          for (const note of all(bar, 'note')) {
            for (const { attributes } of all(note, 'tuplet')) {
              expect(open).toBe(attributes.type === 'stop');
              open = attributes.type === 'start';
            }
            expect(all(note, 'time-modification').length > 0 || !open).toBe(true);
            for (const { text, attributes } of all(note, 'beam')) {
              const level = Number(attributes.number) - 1;
              expect(beams[level]).toBe(text === 'continue' || text === 'end');
              beams[level] = text === 'begin' || text === 'continue';
            }
          }
          expect([open, ...beams]).toEqual([false, false, false, false]);
        }
      }),
    );
  });
});

const rounded = (beats: number) => Math.round(beats * 1000) / 1000;

const NATURAL: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const SIGNS: Readonly<Record<string, number>> = { sharp: 1, flat: -1, natural: 0 };
/** What the signatures of these keys hold (any primer). */
const SIGNATURES: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  C: {},
  F: { B: -1 },
  E: { F: 1, C: 1, G: 1, D: 1 },
};

/** The notes as a reader plays them who looks at the accidentals on the page only, and joins ties. */
function soundsOf(score: Node, key: Key) {
  const perQuarter = Number(textOf(score, 'divisions'));
  const perBeat = (perQuarter * 4) / Number(textOf(score, 'beat-type'));
  const sounds: { beat: number; beats: number; midi: number; finger: number }[] = [];
  let tied = false;
  const measures = all(score, 'measure');
  const first = measures[0]!;
  let at = first.attributes.implicit
    ? Number(first.attributes.number) * Number(textOf(score, 'beats')) * perBeat -
      all(first, 'note').reduce((sum, note) => sum + durationOf(note), 0)
    : 0;
  for (const bar of measures) {
    const inForce = new Map<string, number>();
    for (const note of all(bar, 'note')) {
      const step = textOf(note, 'step');
      const ties = all(note, 'tie').map(({ attributes }) => attributes.type);
      expect(all(note, 'tied').map(({ attributes }) => attributes.type)).toEqual(ties);
      expect(ties.includes('stop')).toBe(tied);
      tied = ties.includes('start');
      if (step !== null && !ties.includes('stop')) {
        const octave = Number(textOf(note, 'octave'));
        const sign = textOf(note, 'accidental');
        const place = `${step}${octave}`;
        if (sign !== null) inForce.set(place, SIGNS[sign]!);
        const alter = inForce.get(place) ?? SIGNATURES[key.tonic]![step] ?? 0;
        expect(Number(textOf(note, 'alter') ?? 0)).toBe(alter);
        sounds.push({
          beat: rounded(at / perBeat),
          beats: 0,
          midi: 12 * (octave + 1) + NATURAL[step]! + alter,
          finger: Number(textOf(note, 'fingering')),
        });
      }
      const last = sounds.at(-1);
      if (step !== null && last) last.beats += durationOf(note) / perBeat;
      at += durationOf(note);
    }
  }
  expect(tied).toBe(false);
  return sounds.map((sound) => ({ ...sound, beats: rounded(sound.beats) }));
}
