import { describe, expect, test } from 'vitest';
import { cutEnd, cutStart, textWidth } from '../../src/write/screen/text-width.js';
import { wrap } from '../../src/write/screen/wrap.js';

describe('columns of a text', () => {
  // Unicode's EastAsianWidth.txt: W and F take two columns, all others one; marks (Mn) none.
  test.each([
    ['song.m4a', 8],
    ['Tür', 3],
    ['Tu\u0308r', 3],
    ['日本語の歌', 10],
    ['노래', 4],
    ['ｆｕｌｌ', 8],
    ['🎤 on', 5],
    ['a–b…', 4],
    ['', 0],
  ])('%s: %i', (text, columns) => {
    expect(textWidth(text)).toBe(columns);
  });
});

describe('a text that is cut', () => {
  test('fits, and is left alone where it fits already', () => {
    expect(cutEnd('a long name.wav', 8)).toBe('a long …');
    expect(cutStart('folder/a long name.wav', 12)).toBe('…ng name.wav');
    expect(cutEnd('short', 5)).toBe('short');
    expect(cutStart('short', 5)).toBe('short');
  });

  test('keeps letters of two columns whole', () => {
    for (const columns of [4, 5, 6, 7]) {
      expect(textWidth(cutEnd('日本語の歌.m4a', columns))).toBeLessThanOrEqual(columns);
      expect(textWidth(cutStart('日本語の歌', columns))).toBeLessThanOrEqual(columns);
    }
    expect(cutEnd('日本語の歌', 5)).toBe('日本…');
  });
});

test('lines are broken by columns, not by letters', () => {
  expect(wrap('日本語 の歌', 8, '', '')).toEqual(['日本語', 'の歌']);
});
