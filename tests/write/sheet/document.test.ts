/** The page as a text: what is in it, how large it is, and that names from outside cannot run. */
import { createHash } from 'node:crypto';
import { gunzipSync } from 'node:zlib';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Melody } from '../../../src/melody.js';
import type { SongInKey } from '../../../src/write/sheet/page-data.js';
import { fourLines, sheetOf } from '../../sheet/sheets.js';

let page: string;
beforeAll(async () => {
  page = await sheetOf(fourLines(), `O'Neil's </title><script>alert(1)</script>`);
});

const between = (start: string, end: string) => page.split(start)[1]!.split(end)[0]!;

describe('the page', () => {
  test('shows a name from outside as text', () => {
    expect(page).not.toContain('<script>alert');
    expect(between('<h1>', '</h1>')).toBe(
      'O&#39;Neil&#39;s &lt;/title&gt;&lt;script&gt;alert(1)&lt;/script&gt;',
    );
  });

  test('lets run one script and one style sheet, by their hashes', () => {
    const policy = between('http-equiv="Content-Security-Policy" content="', '"');
    const hash = (text: string) => `sha256-${createHash('sha256').update(text).digest('base64')}`;
    expect(policy).toContain(`script-src '${hash(between('<script>', '</script>'))}';`);
    expect(policy).toContain(`style-src '${hash(between('<style>', '</style>'))}';`);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("connect-src 'none'");
    expect(policy).not.toContain('unsafe');
    expect(page.match(/<script>/g)).toHaveLength(1);
    expect(page).not.toMatch(/ style="| on\w+="|https?:\/\//);
  });

  test('holds every key, packed: one of them as it is shown without a script', () => {
    const packed = [...page.matchAll(/<script type="application\/gzip" id="key(-?\d+)">([^<]+)</g)];
    const keys = packed.map(([, semitones, text]) => ({
      semitones: Number(semitones),
      song: JSON.parse(gunzipSync(Buffer.from(text!, 'base64')).toString()) as SongInKey,
    }));
    expect(keys).toHaveLength(12);
    const first = fourLines().notes[0]!.midi;
    for (const { semitones, song } of keys) expect(song.midis[0]).toBe(first + semitones);
    const own = keys.find(({ semitones }) => semitones === 0)!.song;
    for (const { art } of own.drawing.lines[2]!.bars) expect(page).toContain(art);
  });

  test('names lines, repeats, bars and doubts, and warns', () => {
    const text = page.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    for (const words of [
      'Line 4 like line 2',
      'bars 5–8',
      '(50 % sure): may be F♯4',
      'Hand: thumb on C4',
      'stop when it hurts',
      '4/4',
      '240 quarter notes a minute',
      '12 cents higher',
    ]) {
      expect(text).toContain(words);
    }
  });

  test('of four minutes is no larger than a megabyte and a half', async () => {
    const melody = fourLines();
    const long = repeated(melody, 8);
    expect(long.notes).toHaveLength(496);
    const text = await sheetOf(long, 'long');
    expect(Buffer.byteLength(text)).toBeLessThan(1.5e6);
  });
});

/** The melody several times after itself, each time half as slow: 8 times are 496 notes in four minutes. */
function repeated(melody: Melody, times: number): Melody {
  const bars = 16;
  const seconds = 30;
  const copies = Array.from({ length: times }, (_, copy) => copy);
  const scale = seconds / 16;
  const notes = copies.flatMap((copy) =>
    melody.notes.map((note) => ({
      ...note,
      start: note.start * scale + copy * seconds,
      end: note.end * scale + copy * seconds,
      bar: note.bar! + copy * bars,
      line: note.line + copy * melody.lines.length,
    })),
  );
  const lines = copies.flatMap(() => melody.lines);
  return { ...melody, recording: { ...melody.recording, seconds: times * seconds }, notes, lines };
}
