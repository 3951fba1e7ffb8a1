import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { NAME_SYSTEMS } from '../../src/theory/name-systems.js';
import { noteList } from '../../src/write/note-list/note-list.js';
import { readNoteList } from '../../src/write/note-list/read-note-list.js';
import { melodyMusicXml } from '../../src/write/score/musicxml.js';
import { screenLayout } from '../../src/write/screen/screen.js';
import { bareMelody, melodies, TWO_LINES } from './melodies.js';

const PLAIN = { bold: (t: string) => t, dim: (t: string) => t, warn: (t: string) => t };

describe('the note list in other systems', () => {
  test.each([
    ['german', '# names german', ['F4', 'A4', 'B4', 'C5'], 'or G4, check by ear', '# scale F major 0.83'],
    [
      'solfège',
      '# names solfège',
      ['fa4', 'la4', 'si♭4', 'do5'],
      'or sol4, check by ear',
      '# scale fa major 0.83',
    ],
    ['degrees', '# names degrees F4', ['1', '3', '4', '5'], 'or 2, check by ear', '# scale F major 0.83'],
  ] as const)('%s', (names, header, notes, remark, scale) => {
    const lines = noteList(TWO_LINES, names).split('\n');
    expect(lines[1]).toBe(header);
    expect(lines).toContain(scale);
    const rows = lines.filter((line) => /^\d/.test(line)).map((line) => line.split('\t'));
    expect(rows.map((row) => row[5])).toEqual(notes);
    expect(rows[1]?.[9]).toBe(remark);
  });

  test('says nothing of English names', () => {
    expect(noteList(TWO_LINES, 'english')).toBe(noteList(TWO_LINES));
    expect(noteList(TWO_LINES)).not.toContain('# names');
  });

  test('is read back as the same notes, in every system', () => {
    fc.assert(
      fc.property(melodies, fc.constantFrom(...NAME_SYSTEMS), (melody, names) => {
        const { notes } = readNoteList(noteList(melody, names), 'list');
        expect(notes.map(({ midi, other }) => [midi, other])).toEqual(
          melody.notes.map(({ midi, other }) => [midi, other]),
        );
      }),
      { numRuns: 60 },
    );
  });

  test('a note that was changed wins', () => {
    const text = noteList(TWO_LINES, 'german').replace('\tA4\t', '\tAs4\t').replace('\tC5\t', '\th4\t');
    expect(readNoteList(text, 'list').notes.map((note) => note.midi)).toEqual([65, 68, 70, 71]);
    const degrees = noteList(TWO_LINES, 'degrees').replace('\t3\t-15', '\t5,\t-15');
    expect(readNoteList(degrees, 'list').notes[1]?.midi).toBe(60);
  });

  test.each([
    ['german', '\tA4\t', '\tBb4\t', 'line 12, column 6 (note): expected a letter A to H, is or es'],
    ['solfège', '\tla4\t', '\tA4\t', 'line 12, column 6 (note): expected do re mi fa sol la or si'],
    ['degrees', '\t3\t-15', '\t9\t-15', 'column 6 (note): expected a degree 1 to 7'],
    [
      'german',
      '# names german',
      '# names klingon',
      'line 2, # names: expected english, german, solfège or degrees',
    ],
    ['german', '# names german', '# names german F4', 'line 2, # names: expected english'],
    [
      'degrees',
      '# names degrees F4',
      '# names degrees',
      'line 2, # names degrees: expected the tonic with its octave',
    ],
    ['degrees', '# names degrees F4', '# names degrees H4', 'found "H4"'],
  ] as const)('in %s, %j as %j is a mistake', (names, good, bad, message) => {
    const text = noteList(TWO_LINES, names);
    expect(text).toContain(good);
    expect(() => readNoteList(text.replace(good, bad), 'song.txt')).toThrow(message);
  });

  test('solfege is read without its accent, and a comment after the notes names nothing', () => {
    const text = noteList(TWO_LINES, 'solfège').replace('solfège', 'Solfege');
    expect(readNoteList(`${text}# names of the singers\n`, 'list').notes[0]?.midi).toBe(65);
  });
});

test('the screen names notes, other keys and scales in the system', () => {
  const text = screenLayout(TWO_LINES, PLAIN, { width: 100, names: 'german' });
  expect(text).toContain('  B4   C5?\n');
  expect(text).toContain('A4? (55 % sure): may be G4');
  expect(text).toContain(
    '  F major (83 %): holds every note; E or Es, not sung, would tell it from B major\n',
  );
  const degrees = screenLayout(TWO_LINES, PLAIN, { width: 80, names: 'degrees' });
  expect(degrees).toMatch(/^fingers, and under them degrees: 1 is F4\n\nline 1 /);
  expect(degrees).toContain('\n  1   3\n  1   3?\n');
  // B flat as a degree of C.
  expect(degrees).toContain('  C major (10 %): does not hold ♭7 (line 2 note 1)\n');
});

test('degrees count from C where no scale is known', () => {
  expect(noteList(bareMelody([{}]), 'degrees')).toContain('# names degrees C4\n');
});

test('the words of the score name the other key in the system; its notes stay notes', () => {
  const english = melodyMusicXml(TWO_LINES, { title: '', key: null });
  const french = melodyMusicXml(TWO_LINES, { title: '', key: null, names: 'solfège' });
  expect(french).toContain('<words>sol4?</words>');
  expect(french.replace('<words>sol4?', '<words>G4?')).toBe(english);
});
