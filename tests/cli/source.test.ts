/** `--source`, as a user runs it: a fixture, and the same voice before a band. */
import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { decodeRecording } from '../../src/audio/decode.js';
import { encodeWav } from '../../src/audio/write-wav.js';
import { band, over } from '../pitch/band.js';
import { makePlaces } from './places.js';
import { fixture, inProcess } from './run.js';

const places = makePlaces();
afterAll(places.remove);
const sung = fixture('sung-joy.flac');
const song = places.at('song.wav');

beforeAll(async () => {
  const { samples, sampleRate } = await decodeRecording(new Uint8Array(readFileSync(sung)), sung);
  const all = over(samples, band(samples.length / sampleRate, ['chords', 'bass', 'drums']), 2);
  writeFileSync(song, encodeWav([all.map((value) => 0.5 * value)], sampleRate));
});

describe('left to decide', () => {
  test('a voice alone is heard as a solo, with the same notes as when asked to', async () => {
    const [left, asked] = [await inProcess([sung]), await inProcess([sung, '--source', 'solo'])];
    const rows = (text: string) => text.split('\n').filter((line) => !line.startsWith('#'));
    expect(rows(left.stdout)).toEqual(rows(asked.stdout));
    expect(left.stderr).toMatch(/sung-joy\.flac: heard as a solo: [a-z ]+\.\n/);
    expect(left.stdout).toMatch(/^# source solo \([a-z ]+\)$/m);
    expect(asked.stderr).not.toContain('heard as');
    expect(asked.stdout).toMatch(/^# source solo$/m);
  });

  test('the same voice before a band is heard as a mix; the JSON says so too', async () => {
    const { status, stdout, stderr } = await inProcess([song, '--json']);
    expect(status).toBe(0);
    const why = /song\.wav: heard as a mix: ([a-z ]+)\.\n/.exec(stderr)?.[1];
    expect(JSON.parse(stdout).recording).toMatchObject({ source: 'mix', why });
    const asked = await inProcess([song, '--json', '--source', 'mix']);
    expect(JSON.parse(asked.stdout).notes).toEqual(JSON.parse(stdout).notes);
    expect(JSON.parse(asked.stdout).recording).toMatchObject({ source: 'mix', why: null });
  });

  test('what it was heard as goes through a corrected list', async () => {
    const list = (await inProcess([song])).stdout;
    const { stdout } = await inProcess(['-', '--json'], { stdin: list });
    expect(JSON.parse(stdout).recording.source).toBe('mix');
  });

  test('--quiet says nothing of it', async () => {
    expect((await inProcess([sung, '--quiet'])).stderr).toBe('');
  });

  test('a lowest note that leaves a mix no room is refused once it is one', async () => {
    const { status, stderr } = await inProcess([song, '--lowest', 'C6']);
    expect(status).toBe(2);
    expect(stderr).toMatch(/leave no room for a melody/);
  });
});
