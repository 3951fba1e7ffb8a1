/** What a person sees on a terminal. */
import { afterAll, describe, expect, test } from 'vitest';
import { makePlaces } from './places.js';
import { fixture, inProcess } from './run.js';

const places = makePlaces();
afterAll(places.remove);
const list = places.at('list.txt');
const XTERM = { TERM: 'xterm' };

/** The start of a colour or weight: CSI … m (ECMA-48, 8.3.117). */
const COLOUR = '\x1b[';

/** Back to the start of the line and erase it (ECMA-48, 8.3.41) as a word. */
const visible = (text: string) => text.replaceAll('\r\x1b[K', '<wiped>');

describe('on a terminal', () => {
  test('the melody is laid out, in lines that fit', async () => {
    for (const terminal of [40, 60, 80]) {
      const { stdout } = await inProcess([list], { terminal, env: { ...XTERM, NO_COLOR: '1' } });
      expect(stdout).toMatch(/^line 1 · 0:00\.0–/);
      expect(stdout).toContain('C4');
      expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(terminal);
    }
  });

  test('colours come with a terminal only, and never with NO_COLOR or on a dumb terminal', async () => {
    const colours = async (terminal: number | undefined, env: Record<string, string>) =>
      (await inProcess([list], { ...(terminal === undefined ? {} : { terminal }), env })).stdout.includes(
        COLOUR,
      );
    expect(await colours(80, XTERM)).toBe(true);
    expect(await colours(80, { ...XTERM, NO_COLOR: '' })).toBe(true);
    expect(await colours(80, { ...XTERM, NO_COLOR: '1' })).toBe(false);
    expect(await colours(80, { ...XTERM, NO_COLOR: '1', FORCE_COLOR: '1' })).toBe(false);
    expect(await colours(80, { ...XTERM, FORCE_COLOR: '0' })).toBe(false);
    expect(await colours(80, { TERM: 'dumb' })).toBe(false);
    expect(await colours(80, { TERM: 'dumb', FORCE_COLOR: '1' })).toBe(true);
    expect(await colours(undefined, XTERM)).toBe(false);
    // The list in a pipe is for programs: no colour is forced on it.
    expect(await colours(undefined, { ...XTERM, FORCE_COLOR: '1' })).toBe(false);
  });

  test('sentences are broken between words, and only there', async () => {
    const wrong = ['notes', list, '--meter', 'waltz'];
    const shown = await inProcess(wrong, { terminal: 40, env: XTERM });
    const lines = shown.stderr.trimEnd().split('\n');
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(40);
    const piped = await inProcess(wrong);
    expect(piped.stderr).toMatch(/^cantilena: --meter [^\n]+\.\n$/);
    expect(lines.map((line) => line.trim()).join(' ')).toBe(piped.stderr.trimEnd());
  });

  test('it says that it listens, and wipes that away again', async () => {
    const args = [fixture('stereo-sung.flac')];
    const { stderr } = await inProcess(args, { terminal: 200, env: XTERM });
    expect(visible(stderr)).toMatch(
      /^listening to \S+ …<wiped>\S+: heard as a solo: [a-z ]+\.\n\S+: \d+ notes heard in 7\.7 s\.\n$/,
    );
    const dumb = await inProcess(args, { terminal: 200, env: { TERM: 'dumb' } });
    expect(dumb.stderr).toMatch(/^\S+: heard as a solo: [a-z ]+\.\n\S+: \d+ notes heard/);
    const quiet = await inProcess([...args, '--quiet'], { terminal: 200, env: XTERM });
    expect(quiet.stderr).toBe('');
  });

  test('the words about listening are wiped away before an error too', async () => {
    const { stderr } = await inProcess([places.at('silence.wav')], { terminal: 200, env: XTERM });
    expect(visible(stderr)).toMatch(/^listening to \S+ …<wiped>cantilena: \S+silence\.wav is silent/);
  });
});
