/** `cantilena listen`, as a user runs it: sound through a pipe, or from a recorder that is a script of ours. */
import { chmodSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { WAV_HEADER_BYTES, writeWavHeader } from '../../src/audio/wav-header.js';
import { sing } from '../pitch/signals.js';
import { makePlaces } from './places.js';
import { inProcess } from './run.js';

const places = makePlaces();
afterAll(places.remove);

const TUNE = [60, 62, 64, 60].map((midi, i) => ({ midi, start: 0.3 + 0.6 * i, end: 0.8 + 0.6 * i }));
const samples = sing(TUNE, 3);
const bare = Buffer.from(Int16Array.from(samples, (sample) => Math.round(32_767 * sample)).buffer);
const wav = new Uint8Array(WAV_HEADER_BYTES + bare.length);
writeWavHeader(wav, { float: false, bits: 16, channels: 1, sampleRate: 16_000 }, bare.length);
wav.set(bare, WAV_HEADER_BYTES);

const target = places.at('target.notes');
writeFileSync(
  target,
  TUNE.map(
    ({ midi, start, end }, i) =>
      [1, '-', '-', start, end - start, { 60: 'C4', 62: 'D4', 64: 'E4' }[midi], 0, 1, 1, ''].join('\t') +
      (i < 3 ? '' : '\n'),
  ).join('\n'),
);

interface Said {
  readonly event: string;
  readonly name: string;
  readonly next?: { readonly number: number; readonly name: string } | null;
  readonly move?: string;
}
const events = (stdout: string) =>
  stdout
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as Said);
const run = (args: readonly string[], stdin: Uint8Array = wav) => inProcess(['listen', ...args], { stdin });

describe('from standard input', () => {
  test('one JSON object an event', async () => {
    const { status, stdout, stderr } = await run(['-']);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(
      events(stdout)
        .filter(({ event }) => event === 'note')
        .map(({ name }) => name),
    ).toEqual(['C4', 'D4', 'E4', 'C4']);
  });

  test('bare samples say the same as WAV', async () => {
    expect((await run(['-', '--raw', '16000'], bare)).stdout).toBe((await run(['-'])).stdout);
  });

  test('two channels are mixed', async () => {
    const both = Buffer.alloc(2 * bare.length);
    for (let i = 0; i < bare.length; i += 2) {
      bare.copy(both, 2 * i, i, i + 2);
      bare.copy(both, 2 * i + 2, i, i + 2);
    }
    const { stdout } = await run(['-', '--raw', '16000', '--channels', '2'], both);
    expect(stdout).toBe((await run(['-'])).stdout);
  });

  test('a target is followed to its end', async () => {
    const { status, stdout } = await run(['-', '--target', target, '--quiet']);
    expect(status).toBe(0);
    const said = events(stdout);
    expect(said[0]).toMatchObject({ name: 'C4', move: 'right', next: { number: 1, name: 'C4' } });
    expect(said.at(-1)!.next).toBeNull();
  });

  test('what is no right note says which way to move', async () => {
    const shifted = sing(
      TUNE.map((note) => ({ ...note, midi: note.midi + 3 })),
      3,
    );
    const { stdout } = await run(
      ['-', '--raw', '16000', '--target', target, '--quiet'],
      Buffer.from(Int16Array.from(shifted, (sample) => Math.round(32_767 * sample)).buffer),
    );
    expect(events(stdout)[0]).toMatchObject({ move: 'lower', keys: 3, next: { number: 1 } });
  });

  test('on a terminal one line is written again and again', async () => {
    const { stdout } = await inProcess(['listen', '-', '--target', target, '--quiet'], {
      stdin: wav,
      terminal: 60,
      env: { NO_COLOR: '1' },
    });
    const lines = stdout.split('\r\x1b[K');
    expect(lines[1]).toContain('note 1 of 4, line 1: C4');
    expect(lines.at(-1)).toContain('all notes played');
    expect(stdout.endsWith('\n')).toBe(true);
    for (const line of lines) expect(line.trimEnd().length).toBeLessThan(60);
  });
});

describe('from a recorder', () => {
  const folder = dirname(places.at('arecord'));
  const script = (text: string) => {
    writeFileSync(places.at('arecord'), `#!/bin/sh\n${text}\n`);
    chmodSync(places.at('arecord'), 0o755);
  };

  test('it is found along PATH and asked for bare samples', async () => {
    writeFileSync(places.at('sound.raw'), bare);
    script(`test "$*" = "-q -t raw -f S16_LE -c 1 -r 16000" && exec /bin/cat ${places.at('sound.raw')}`);
    const { status, stdout, stderr } = await inProcess(['listen'], { env: { PATH: folder } });
    expect(status).toBe(0);
    expect(stderr).toBe('listening by arecord; Ctrl-C ends it.\n');
    expect(stdout).toBe((await run(['-'])).stdout);
  });

  test('its complaint is passed on', async () => {
    script('echo "no such device" >&2; exit 1');
    const { status, stderr } = await inProcess(['listen', '--quiet'], { env: { PATH: folder } });
    expect(status).toBe(3);
    expect(stderr).toBe(
      'cantilena: arecord cannot record (no such device): connect a microphone, or send sound to cantilena listen -.\n',
    );
  });

  test('without one a sentence says so', async () => {
    const { status, stderr } = await inProcess(['listen'], { env: { PATH: '/nowhere' } });
    expect(status).toBe(3);
    expect(stderr).toMatch(/^cantilena: no recorder was found on this system \(arecord, sox, ffmpeg\)/);
  });
});

describe('what makes no sense is refused in a sentence', () => {
  test.each<[string, string[], number, RegExp]>([
    ['a file', ['song.wav'], 2, /listen hears what sounds now, not song\.wav/],
    ['--raw without -', ['--raw', '16000'], 2, /give - too/],
    ['a strange rate', ['-', '--raw', '3'], 2, /--raw takes a whole number from 8000/],
    ['--channels alone', ['-', '--channels', '2'], 2, /give --raw too/],
    ['--line alone', ['-', '--line', '2'], 2, /--line needs a melody/],
    [
      'a line that is not there',
      ['-', '--target', target, '--line', '9'],
      2,
      /no line 9, since the melody has one line: leave --line out/,
    ],
    ['standard input as target', ['-', '--target', '-'], 2, /standard input is the sound/],
    ['a target that is not there', ['-', '--target', 'nope.notes'], 3, /there is no file nope\.notes/],
  ])('%s', async (_name, args, status, message) => {
    const outcome = await run([...args, '--quiet']);
    expect(outcome.status).toBe(status);
    expect(outcome.stderr).toMatch(message);
    expect(outcome.stderr).toMatch(/^cantilena: [^\n]+\n$/);
  });

  test('text in place of sound', async () => {
    const { status, stderr } = await run(['-'], new TextEncoder().encode('hello there, no sound'));
    expect(status).toBe(3);
    expect(stderr).toContain('is no WAV');
  });
});
