import { describe, expect, test } from 'vitest';
import { table } from '../../src/cli/table.js';
import { textWidth } from '../../src/write/screen/text-width.js';

const HEADINGS = ['grade', 'song', 'key'];
const ROWS = [
  ['2.9', 'evening/one very long name of a song, sung in the garden.m4a', 'C major'],
  ['10.0', '日本語の歌\n.m4a', 'F# minor'],
];

describe('a table', () => {
  test('is cut at the names on a narrow terminal, where their ends are kept', () => {
    const text = table(HEADINGS, ROWS, { width: 50, rightAligned: new Set([0]), names: 1 });
    expect(text).toBe(
      [
        'grade  song                               key',
        '  2.9  …f a song, sung in the garden.m4a  C major',
        ' 10.0  日本語の歌 .m4a                    F# minor',
        '',
      ].join('\n'),
    );
  });

  test('has room where there is room, and cuts nothing', () => {
    const text = table(HEADINGS, ROWS, { width: 100, names: 1 });
    expect(text).toContain(ROWS[0]![1]);
    expect(text).not.toContain('…');
  });

  test('for other programs has tabs and whole names, a line a row', () => {
    expect(table(HEADINGS, ROWS, { width: null, names: 1 })).toBe(
      `# grade\tsong\tkey\n${ROWS[0]!.join('\t')}\n10.0\t日本語の歌 .m4a\tF# minor\n`,
    );
  });

  test('fits every terminal that holds the other columns and a few letters', () => {
    for (const width of [36, 40, 60, 80]) {
      const lines = table(HEADINGS, ROWS, { width, names: 1 }).trimEnd().split('\n');
      expect(lines.filter((line) => textWidth(line) > width)).toEqual([]);
    }
  });
});
