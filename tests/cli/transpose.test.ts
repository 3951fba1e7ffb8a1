/** `cantilena transpose`, as a user runs it. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { FINGER_CAUTION } from '../../src/write/caution.js';
import type { MelodyJson } from '../../src/write/json/schema.js';
import { makePlaces } from './places.js';
import { inProcess } from './run.js';

const places = makePlaces();
afterAll(places.remove);
const list = places.at('list.txt');

const run = (...args: string[]) => inProcess(['transpose', ...args]);
const json = async (...args: string[]) => {
  const { stdout, status, stderr } = await run(...args, '--json', '--quiet');
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return JSON.parse(stdout) as MelodyJson;
};

describe('one key', () => {
  test('--to moves to the nearest key of that name, and the list reads back', async () => {
    const before = JSON.parse((await inProcess([list, '--json', '--quiet'])).stdout) as MelodyJson;
    const after = await json(list, '--to', 'G');
    const [first] = after.scales;
    expect(first!.tonic).toBe('G');
    const shifts = after.notes.map((note, i) => note.midi - before.notes[i]!.midi);
    expect(new Set(shifts).size).toBe(1);
    expect(Math.abs(shifts[0]!)).toBeLessThanOrEqual(6);
    const written = await run(list, '--to', 'G', '--quiet');
    const again = await inProcess(['-', '--json', '--quiet'], { stdin: written.stdout });
    const read = JSON.parse(again.stdout) as MelodyJson;
    expect(read.notes.map((note) => note.midi)).toEqual(after.notes.map((note) => note.midi));
  });

  test('--by takes semitones and intervals', async () => {
    const at = async (by: string) => (await json(list, '--by', by)).notes.map((note) => note.midi);
    const home = await at('0');
    expect(await at('m3')).toEqual(home.map((midi) => midi + 3));
    expect(await at('-2')).toEqual(home.map((midi) => midi - 2));
  });

  test('--within chooses the octave', async () => {
    const { notes } = await json(list, '--by', '0', '--within', 'C5', 'C7');
    for (const { midi } of notes) {
      expect(midi).toBeGreaterThanOrEqual(72);
      expect(midi).toBeLessThanOrEqual(96);
    }
  });

  test('the input may stand after the notes of --within', async () => {
    const { notes } = await json('--by', '0', '--within', 'C5', 'C7', list);
    expect(notes.length).toBeGreaterThan(0);
  });

  test('files are written as asked', async () => {
    const midi = places.at('moved.mid');
    expect((await run(list, '--to', 'A', '--midi', midi, '--quiet')).status).toBe(0);
    expect(readFileSync(midi).subarray(0, 4).toString()).toBe('MThd');
  });
});

describe('several keys', () => {
  test('make a set of files each, and a table', async () => {
    const folder = places.at('practice');
    const { status, stdout, stderr } = await run(list, '--key', 'C', '--to', 'F,Bb,F#', '--out', folder);
    expect(status).toBe(0);
    const names = readdirSync(folder);
    for (const key of ['F', 'B-flat', 'F-sharp']) {
      for (const ending of ['notes', 'json', 'mid', 'musicxml', 'html', 'svg', 'mp3'])
        expect(names).toContain(`list-${key}.${ending}`);
    }
    expect(stdout).toMatch(/^# key\tsignature\tsemitones\tlowest\thighest\tnote list\nF major\t1 flat\t/);
    expect(stdout).toMatch(/\nF# major\t6 sharps\t/);
    expect(stderr).toContain(FINGER_CAUTION);
  });

  test('on a terminal the table is aligned, and so narrow that it fits', async () => {
    const args = ['transpose', list, '--key', 'C', '--to', 'C,Bb', '--out', places.at('aligned'), '--quiet'];
    const { stdout } = await inProcess(args, { terminal: 60 });
    expect(stdout).toBe(
      [
        'key       signature  moved  from  to  note list',
        'C major   none       0      C4    E5  list-C.notes',
        'Bb major  2 flats    -2     Bb3   D5  list-B-flat.notes',
        '',
      ].join('\n'),
    );
  });

  test('as JSON', async () => {
    const { stdout } = await run(list, '--plan', '3', '--out', places.at('plan'), '--json', '--quiet');
    const { keys } = JSON.parse(stdout) as { keys: { tonic: string; fifths: number; files: string[] }[] };
    expect(keys.map(({ fifths }) => fifths)).toEqual([0, 1, -1]);
    for (const { files } of keys) expect(files.every((file) => existsSync(file))).toBe(true);
  });

  test('what is there stays, without --force, and nothing else is written', async () => {
    const folder = places.at('twice');
    await run(list, '--to', 'D,G', '--out', folder, '--quiet');
    const before = readdirSync(folder).sort();
    const { status, stderr } = await run(list, '--to', 'G,A', '--out', folder);
    expect(status).not.toBe(0);
    expect(stderr).toContain('is already there');
    expect(readdirSync(folder).sort()).toEqual(before);
    expect((await run(list, '--to', 'G,A', '--out', folder, '--force', '--quiet')).status).toBe(0);
  });
});

describe('what makes no sense is refused in a sentence', () => {
  test.each<[string, string[], RegExp]>([
    ['no destination', [], /nothing says where to/],
    ['two', ['--to', 'G', '--by', '2'], /exclude each other/],
    ['no key', ['--to', 'H#x'], /--to takes keys/],
    ['another mode', ['--to', 'G minor'], /keeps its mode/],
    ['no interval', ['--by', 'P3'], /--by takes an interval/],
    ['too many keys', ['--plan', '13'], /--plan takes a whole number from 2 to 12/],
    ['one key twice', ['--to', 'G,F,G', '--out', 'x'], /--to names G twice: name each key once/],
    ['several without a folder', ['--to', 'F,G'], /give --out/],
    ['several in one file', ['--to', 'F,G', '--midi', 'x.mid'], /several keys are asked for/],
    ['one note of --within', ['--to', 'G', '--within', 'C4'], /takes two notes/],
    ['a range upside down', ['--to', 'G', '--within', 'C6', 'C4'], /does not lie above/],
    ['too small a range', ['--to', 'G', '--within', 'C4', 'D4'], /spans \d+ semitones/],
    ['out of MIDI', ['--by', '99'], /moved up by 99 semitones the melody leaves the notes that MIDI has/],
  ])('%s', async (_name, args, message) => {
    // Before the options: --within would take what follows it.
    const { status, stdout, stderr } = await run(list, '--quiet', ...args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toMatch(message);
    expect(stderr).toMatch(/^cantilena: [^\n]+[.?]\n$/);
  });

  test.each([['P3'], ['0.5']])('by %s before anything is read or heard', async (interval) => {
    const { stderr } = await run(list, '--by', interval);
    expect(stderr).toMatch(/^cantilena: --by takes an interval/);
  });
});
