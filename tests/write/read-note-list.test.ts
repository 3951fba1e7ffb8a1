import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CantilenaError, InputError, NoMelodyError } from '../../src/errors.js';
import { readNoteList } from '../../src/write/note-list/read-note-list.js';
import { golden } from './melodies.js';

const GOOD = ['1', '-', '-', '0.500', '0.250', 'F4', '-5', '0.97', '1', ''];

/** A list of one row in which some fields are other than good. */
const withField = (column: number, value: string) =>
  GOOD.map((field, index) => (index === column - 1 ? value : field)).join('\t');

const message = (text: string): string => {
  try {
    readNoteList(text, 'song.txt');
  } catch (error) {
    if (error instanceof CantilenaError) return error.message;
    throw error;
  }
  return 'no error';
};

describe('reading a note list', () => {
  test('gives the facts, the notes and the lines', () => {
    const read = readNoteList(readFileSync(golden('two-lines.tsv'), 'utf8'), 'two-lines');
    expect(read).toMatchObject({
      tuningCents: 10,
      seconds: 5.25,
      bpm: 120,
      beatsPerBar: 4,
      firstDownbeat: 0.5,
      lineStarts: [1, 3],
      warnings: [],
    });
    expect(read.notes.map((n) => [n.start, n.end, n.midi, n.confidence, n.other])).toEqual([
      [0.5, 1, 65, 0.98, null],
      [1, 1.5, 69, 0.55, 67],
      [3, 3.75, 70, 1, null],
      [3.75, 4.5, 72, 0.6, null],
    ]);
    const pitches = [65.1, 68.95, 70.2, 72.1];
    read.notes.forEach((n, i) => {
      expect(n.pitch).toBeCloseTo(pitches[i]!, 9);
    });
  });

  test('takes what editors and spreadsheets do to a file', () => {
    const plain = readNoteList(`${GOOD.join('\t')}\n`, 'x');
    const same = {
      'carriage returns': `${GOOD.join('\t')}\r\n`,
      'a byte order mark': `\uFEFF${GOOD.join('\t')}\n`,
      'blank lines and padded ones': `\n\t\t\t\n${GOOD.join('\t')}\n\n\n`,
      'no remark': `${GOOD.slice(0, 9).join('\t')}`,
      'no finger': `${GOOD.slice(0, 8).join('\t')}`,
      'a dash for a finger': withField(9, '-'),
      'empty fields after the last': `${GOOD.join('\t')}\t\t\t`,
      'comments anywhere': `# my song\n${GOOD.join('\t')}\n# seconds are in column 4\n`,
      'quotes round comments': `"# a song, mine"\n${GOOD.join('\t')}`,
      'padded header lines': `# seconds 0.75\t\t\t\n${GOOD.join('\t')}`,
      'spaces round fields': withField(6, ' F4 '),
      'fewer decimals': withField(4, '0.5'),
    };
    for (const [what, text] of Object.entries(same)) {
      expect(readNoteList(text, 'x'), what).toEqual(plain);
    }
  });

  test('brings what the recording was heard as, and takes other words after source for a comment', () => {
    const read = (line: string) => readNoteList(`${line}\n${GOOD.join('\t')}`, 'x').heardAs;
    expect(read('# source mix (a bass sounds below the melody)')).toEqual({
      source: 'mix',
      why: 'a bass sounds below the melody',
    });
    expect(read('# source solo\t\t\t')).toEqual({ source: 'solo', why: null });
    for (const comment of [
      '# source',
      '# source my phone',
      '# source mix tape',
      '# sources solo',
      '# my song',
    ]) {
      expect(read(comment), comment).toBeNull();
    }
  });

  test('takes ♯ and ♭, and the note decides the key', () => {
    const read = (name: string) => readNoteList(`# tuning-cents 20\n${withField(6, name)}`, 'x').notes[0]!;
    expect([read('B♭3').midi, read('F♯4').midi, read('Cb4').midi]).toEqual([58, 66, 59]);
    expect(read('B♭3').pitch).toBeCloseTo(58 + 0.2 - 0.05, 9);
  });

  test('reads the other key from a remark that names one, and no other remark', () => {
    const other = (remark: string) => readNoteList(withField(10, remark), 'x').notes[0]!.other;
    expect(other('or A4, check by ear')).toBe(69);
    expect(other('or B♭4')).toBe(70);
    expect(other('"or A4, check by ear"')).toBe(69);
    expect(other('or maybe not')).toBeNull();
    expect(other('breathe here')).toBeNull();
    expect(other('or F4')).toBeNull();
  });

  test('takes a dash in the line column for no lines', () => {
    expect(readNoteList(withField(1, '-'), 'x').lineStarts).toBeNull();
    expect(readNoteList(GOOD.join('\t'), 'x').lineStarts).toEqual([1]);
  });

  test.each([
    [1, '0', 'column 1 (line): expected a whole number from 1, or -, found "0"'],
    [2, 'x', 'column 2 (bar): expected a whole number, or -, found "x"'],
    [3, '0.5', 'column 3 (beat): expected a number from 1, or -, found "0.5"'],
    [4, '-1', 'column 4 (start): expected seconds from 0, such as 12.345, found "-1"'],
    [4, '1e3', 'column 4 (start): expected seconds from 0, such as 12.345, found "1e3"'],
    [
      4,
      '0,500',
      'column 4 (start): expected seconds from 0, such as 12.345, with a point instead of the comma, found "0,500"',
    ],
    [5, '0', 'column 5 (length): expected seconds above 0, such as 0.250, found "0"'],
    [5, '', 'column 5 (length): expected seconds above 0, such as 0.250, found nothing'],
    [
      6,
      'H4',
      'column 6 (note): expected a letter A to G, # or b where needed, and the octave, such as F#4 or Bb3, found "H4"',
    ],
    [7, 'sharp', 'column 7 (cents): expected cents from -2400 to 2400, such as -12, found "sharp"'],
    [8, '1.1', 'column 8 (sure): expected a probability from 0 to 1, such as 0.85, found "1.1"'],
    [9, '6', 'column 9 (finger): expected a finger from 1 to 5, with ! where it is settled, or -, found "6"'],
  ])('names line and column of a mistake: column %i with "%s"', (column, value, expected) => {
    expect(message(`# a comment\n${withField(column, value)}\n`)).toBe(`song.txt, line 2, ${expected}.`);
  });

  test('refuses notes that no piano or MIDI file has', () => {
    for (const name of ['G#9', 'C-2', 'C44', 'Cb-1']) {
      expect(message(withField(6, name)), name).toContain('column 6 (note)');
    }
    expect(readNoteList(withField(6, 'G9'), 'x').notes[0]!.midi).toBe(127);
    expect(readNoteList(withField(6, 'C-1'), 'x').notes[0]!.midi).toBe(0);
  });

  test('says how many fields there are', () => {
    expect(message('hello world\n')).toBe(
      'song.txt, line 1: expected 10 fields with tabs between them (line bar beat start length note cents sure finger remark), found 1.',
    );
    expect(message(`${GOOD.join('\t')}\tmore`)).toContain('found 11');
  });

  test('refuses starts that do not increase, naming both lines', () => {
    const text = `${withField(4, '1')}\n# between\n${withField(4, '1.0')}\n`;
    expect(message(text)).toBe(
      'song.txt, line 3, column 4 (start): 1 is not later than the start 1 in line 1; put the notes in order of start.',
    );
  });

  test('refuses overlaps, and trims those of a rounding error', () => {
    const next = withField(4, '0.700');
    expect(message(`${GOOD.join('\t')}\n${next}`)).toBe(
      'song.txt, lines 1 and 2: the first note ends at 0.75 s, after the start 0.7 s of the next; shorten it to 0.2 s or less.',
    );
    const read = readNoteList(`${GOOD.join('\t')}\n${withField(4, '0.7495')}`, 'x');
    expect(read.notes[0]!.end).toBe(0.7495);
  });

  test('refuses line numbers that go down or stand beside dashes', () => {
    const rows = (a: string, b: string) =>
      `${withField(1, a)}\n${withField(1, b).replace('0.500', '1.500')}\n`;
    expect(message(rows('2', '1'))).toContain('line 2, column 1 (line): 1 comes after 2');
    expect(message(rows('1', '-'))).toContain('line 2, column 1 (line): "-" beside notes that have a number');
    expect(readNoteList(rows('1', '4'), 'x').lineStarts).toEqual([1, 2]);
  });

  test('refuses wrong facts and other versions', () => {
    expect(message(`# tempo-bpm fast\n${GOOD.join('\t')}`)).toBe(
      'song.txt, line 1, # tempo-bpm: expected a number from 4 to 1000 (beats a minute), found "fast".',
    );
    expect(message(`# cantilena note list 2\n${GOOD.join('\t')}`)).toContain('version "2"');
    expect(message(`# cantilena note list 1 \t5\u001b\n${GOOD.join('\t')}`)).toMatch(/version "1 �5�?"/);
  });

  test('takes beats one by one from any number of lines', () => {
    const beats = (...lines: string[]) =>
      readNoteList([...lines.map((line) => `# beat-seconds ${line}`), GOOD.join('\t')].join('\n'), 'x').beats;
    expect(beats('-0.5 0.000', '0.50\t1.125')).toEqual([-0.5, 0, 0.5, 1.125]);
    expect(beats('1')).toBeNull();
    expect(beats()).toBeNull();
  });

  test.each([
    ['tempo-bpm 120\n# beat-seconds 0.5 one', 2, 'expected seconds with blanks between them, found "one"'],
    ['beat-seconds 0.5 1\n# beat-seconds 1.05 1.5', 2, '1.05 is not 0.06 to 15 s after the beat before, 1'],
    ['beat-seconds 0.5 16', 1, '16 is not 0.06 to 15 s after the beat before, 0.5'],
  ])('refuses beats that are none: # %s', (text, line, said) => {
    expect(message(`# ${text}\n${GOOD.join('\t')}`)).toBe(`song.txt, line ${line}, # beat-seconds: ${said}.`);
  });

  test('refuses parts of beats in a bar, and other note values for a beat', () => {
    expect(message(`# beats-per-bar 2.5\n${GOOD.join('\t')}`)).toBe(
      'song.txt, line 1, # beats-per-bar: expected a whole number from 1 to 64 (beats), found "2.5".',
    );
    expect(message(`# beat-unit 6\n${GOOD.join('\t')}`)).toContain('# beat-unit: expected a whole number');
  });

  test('says that a list without notes holds no melody, with its own exit status', () => {
    for (const text of ['', '\n', '# cantilena note list 1\n']) {
      expect(() => readNoteList(text, 'x')).toThrow(NoMelodyError);
    }
    expect(new InputError('').exitStatus).toBe(3);
  });

  test('meets any text with notes or with one sentence on one line', () => {
    const fields = fc.oneof(fc.constantFrom(...GOOD, '#', '\uFEFF', '\0', '1e999', '..'), fc.string());
    const lines = fc.array(fc.array(fields, { maxLength: 12 }).map((parts) => parts.join('\t')));
    fc.assert(
      fc.property(lines, (list) => {
        const said = message(list.join('\n'));
        expect(said).not.toMatch(/[\n\r\0]/);
      }),
    );
  });
});
