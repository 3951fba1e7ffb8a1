/** `doctor`: on this system, and on systems that lack something. */
import { describe, expect, test } from 'vitest';
import {
  type Check,
  checkDecoders,
  checkEngraver,
  checkNetworks,
  checkNode,
  checkPackages,
} from '../../src/cli/doctor-checks.js';
import { TUNE, tuneSound } from '../../src/cli/doctor-self-test.js';
import { UsageError } from '../../src/errors.js';
import { inProcess } from './run.js';

const PARTS = [
  'Node.js',
  'networks',
  'decoders',
  'engraver',
  'recorder',
  'packages',
  'hearing a solo',
  'files',
  'hearing a song',
];

describe('doctor', () => {
  test('finds all that is needed here, a line each; a recorder is not needed', async () => {
    const { status, stdout, stderr } = await inProcess(['doctor'], { env: { PATH: '' } });
    const lines = stdout.trimEnd().split('\n');
    expect(lines.map((line) => line.split(': ').slice(0, 2))).toEqual(
      PARTS.map((part) => [part === 'recorder' ? 'missing' : 'ok', part]),
    );
    expect(lines[4]).toBe(
      'missing: recorder: takes the sound of a microphone for cantilena listen: none was found; install one of arecord, sox, ffmpeg, or send sound to cantilena listen -.',
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  test('a terminal gets lines no wider than it is', async () => {
    const { stdout } = await inProcess(['doctor'], { env: { PATH: '' }, terminal: 50 });
    expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(50);
    expect(stdout).toMatch(/^ok: Node\.js: /);
  });

  test('gives the same as JSON', async () => {
    const { status, stdout } = await inProcess(['doctor', '--json'], { env: { PATH: '' } });
    const { ok, version, checks } = JSON.parse(stdout) as { ok: boolean; version: string; checks: Check[] };
    expect({ ok, status }).toEqual({ ok: true, status: 0 });
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    expect(checks.map(({ name }) => name)).toEqual(PARTS);
    expect(checks.filter(({ needed }) => !needed).map(({ name }) => name)).toEqual(['recorder']);
  });

  test('its melody is heard by every other command too', async () => {
    const { stdout } = await inProcess(['notes', '-', '--json', '--source', 'solo'], { stdin: tuneSound() });
    expect(JSON.parse(stdout).notes.map(({ midi }: { midi: number }) => midi)).toEqual(TUNE);
  });

  test('takes no input', async () => {
    expect(await inProcess(['doctor', 'song.m4a'])).toMatchObject({ status: 2, stdout: '' });
  });
});

describe('a part that is missing', () => {
  const broken = () => Promise.reject(new Error('no such module\nand a stack'));

  test('an old Node is told with the version that is needed', async () => {
    expect((await checkNode('20.11.1', '>=20.12')).words).toBe(
      'runs the program: it is 20.11.1; install 20.12 or later.',
    );
    for (const version of ['20.12.0', '20.20.2', '22.1.0', '100.0.0']) {
      expect((await checkNode(version, '>=20.12')).status).toBe('ok');
    }
    for (const version of ['18.20.0', '9.30.0']) {
      expect((await checkNode(version, '>=20.12')).status).toBe('missing');
    }
  });

  test('an engine or an engraver that does not start is told in one line', async () => {
    expect(await checkNetworks(broken)).toEqual({
      name: 'networks',
      needed: true,
      status: 'missing',
      words: 'hear the voice in a recording: no such module and a stack; install cantilena again.',
    });
    // What says by itself what to do is not told so twice.
    const told = await checkNetworks(() => Promise.reject(new UsageError('it is gone: do this.')));
    expect(told.words).toBe('hear the voice in a recording: it is gone: do this.');
    for (const check of [checkEngraver, checkPackages]) expect((await check(broken)).status).toBe('missing');
    expect((await checkEngraver(async () => () => '<svg></svg>')).words).toBe(
      'draws the notation of sheets: a note was not drawn; install cantilena again.',
    );
  });

  test('every format that cannot be decoded is named', async () => {
    const none = new Uint8Array();
    const found = await checkDecoders({ MP3: none, FLAC: none, Opus: none }, async (_bytes, format) => {
      if (format === 'FLAC') throw new Error('x');
      return format === 'Opus' ? 0.2 : 0;
    });
    expect(found.words).toBe('read recordings: no MP3, FLAC; install cantilena again.');
  });
});
