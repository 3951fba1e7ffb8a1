/** The command `guide`: what it writes, and what it refuses. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { CAUTION } from '../../src/write/caution.js';
import { makePlaces, type Places } from './places.js';
import { fixture, inProcess } from './run.js';

let places: Places;
let output: string;
let count = 0;
beforeAll(() => {
  places = makePlaces();
});
afterAll(() => places.remove());
beforeEach(() => {
  count += 1;
  output = places.at(`guide-${count}.wav`);
});

const guide = (input: string, ...args: string[]) => inProcess(['guide', input, '-o', output, ...args]);
const list = () => places.at('list.txt');

interface Wav {
  readonly channels: number;
  readonly seconds: number;
  readonly samples: Int16Array;
}

/** A plain WAV file of 16 bits by its header's fields. */
function wavAt(path: string): Wav {
  const bytes = readFileSync(path);
  expect(bytes.subarray(0, 4).toString()).toBe('RIFF');
  expect(bytes.subarray(8, 16).toString()).toBe('WAVEfmt ');
  expect([bytes.readUInt32LE(24), bytes.readUInt16LE(34)]).toEqual([44_100, 16]);
  const channels = bytes.readUInt16LE(22);
  const samples = new Int16Array(Uint8Array.from(bytes.subarray(44)).buffer);
  return { channels, samples, seconds: samples.length / channels / 44_100 };
}

describe('what is written', () => {
  test('is a piano in a WAV file, and nothing on standard output', async () => {
    const run = await guide(list());
    expect(run).toMatchObject({ status: 0, stdout: '' });
    expect(run.stderr).toMatch(/12 notes read from a note list\.\nwrote \S+\.wav: 12 notes, 0:09\.\n$/);
    const { channels, seconds, samples } = wavAt(output);
    expect(channels).toBe(1);
    expect(seconds).toBeGreaterThan(8);
    // −1 dB of 32768.
    expect(samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)).toBeLessThan(29_205);
    expect(samples.subarray(0, 0.3 * 44_100).every((sample) => sample === 0)).toBe(true);
  });

  test('lasts longer at half the speed, and with a silence to answer in', async () => {
    await guide(list(), '--line', '1', '--quiet');
    const plain = wavAt(output).seconds;
    await guide(list(), '--line', '1', '--force', '--quiet', '--speed', '0.5');
    expect(wavAt(output).seconds - plain).toBeCloseTo(3, 1);
    await guide(list(), '--line', '1', '--force', '--quiet', '--call-and-response');
    expect(wavAt(output).seconds - plain).toBeGreaterThan(2.9);
  });

  test('is a part by line, or by time, of what is read too', async () => {
    expect((await guide(list(), '--line', '2')).stderr).toMatch(/: 6 notes, 0:0/);
    expect((await guide(list(), '--force', '--line', '1-2')).stderr).toMatch(/: 12 notes, 0:0/);
    expect((await guide(list(), '--force', '--from', '0:01', '--to', '2.2')).stderr).toMatch(
      /: 3 notes, 0:0/,
    );
  });

  test('has the recording left and the piano right with --beside', async () => {
    const run = await guide(
      fixture('sung-low.wav'),
      '--beside',
      '--to',
      '3',
      '--speed',
      '0.8',
      '--source',
      'solo',
    );
    expect(run.status).toBe(0);
    const { channels, samples } = wavAt(output);
    expect(channels).toBe(2);
    const loud = (ear: number) =>
      samples.filter((sample, i) => i % 2 === ear && Math.abs(sample) > 1000).length;
    expect(loud(0)).toBeGreaterThan(1000);
    expect(loud(1)).toBeGreaterThan(1000);
  });

  test('comes with a caution where it is long practice, unless nothing is to be said', async () => {
    const run = await guide(places.at('two.mid'), '--repeat', '8');
    expect(run.stderr.endsWith(`\n${CAUTION}\n`)).toBe(true);
    expect((await guide(places.at('two.mid'), '--force', '--repeat', '7')).stderr).not.toMatch(/hurts/);
    expect((await guide(places.at('two.mid'), '--force', '--repeat', '8', '--quiet')).stderr).toBe('');
  });
});

test('an MP3 file by the name’s ending, which the program can hear', async () => {
  output = output.replace('.wav', '.MP3');
  expect(await guide(list(), '--quiet')).toEqual({ status: 0, stdout: '', stderr: '' });
  const heard = await inProcess([output, '--json', '--source', 'solo']);
  const { notes } = JSON.parse(heard.stdout) as { notes: { midi: number }[] };
  expect(notes.map(({ midi }) => midi)).toEqual([60, 62, 64, 65, 67, 72, 70, 64, 74, 65, 76, 60]);
});

describe('what is refused', () => {
  const refused = async (
    run: Promise<{ status: number | null; stderr: string }>,
    status: number,
    why: RegExp,
  ) => {
    const outcome = await run;
    expect(outcome.stderr).toMatch(why);
    expect(outcome.status).toBe(status);
    expect(existsSync(output)).toBe(false);
    expect(readdirSync(places.folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
  };

  test.each([
    [['--speed', '3'], /--speed takes a speed from 0\.25 to 2, .* not 3: .* --speed 0\.5\./],
    [['--speed', 'slow'], /--speed takes .* not slow/],
    [['--repeat', '0'], /--repeat takes a whole number from 1 to 99, not 0/],
    [['--line', '0'], /--line takes the number of a line.* not 0: .* --line 3-5\./],
    [['--line', '5-3'], /--line takes .* not 5-3/],
    [['--line', '3'], /there is no line 3, since the melody has 2 lines: choose one of them\./],
    [['--line', '1', '--from', '1'], /--line and --from or --to exclude each other/],
    [['--from', '60'], /no note begins in the part/],
    [['--beside'], /--beside is for recordings, and \S+ is a note list/],
    [['--source', 'solo'], /--source is for recordings/],
    [['--hand', 'small'], /guide has no option --hand/],
    [['--repeat', '99', '--speed', '0.25'], /the guide would last \d+:\d\d, and 20:00 is the most/],
  ] as const)('%j', async (args, why) => {
    await refused(guide(list(), ...args), 2, why);
  });

  test('no file to write, or one of another kind, or standard output', async () => {
    await refused(
      inProcess(['guide', list()]),
      2,
      /there is no file to write: name one, as in .* -o guide\.wav\./,
    );
    await refused(
      inProcess(['guide', list(), '-o', 'guide.ogg']),
      2,
      /guide\.ogg cannot be written: guides are WAV or MP3 files/,
    );
    await refused(inProcess(['guide', list(), '-o', '-']), 2, /--output needs a name after it and found -/);
    await refused(inProcess(['guide', '-o', output]), 2, /there is no input/);
  });

  test('an input that is missing, damaged or empty', async () => {
    await refused(guide(places.at('nothing.mid')), 3, /there is no file/);
    await refused(guide(places.at('cut.mid')), 3, /cut\.mid is cut off/);
    await refused(guide(places.at('no-notes.txt')), 4, /holds no notes/);
  });

  test('a file that is there, without --force, and the input itself with it', async () => {
    await guide(list(), '--line', '1', '--quiet');
    const before = readFileSync(output);
    const again = await guide(list(), '--line', '2');
    expect(again).toMatchObject({ status: 2, stdout: '' });
    expect(again.stderr).toMatch(/is already there: give another name, or --force/);
    expect(readFileSync(output).equals(before)).toBe(true);
    expect((await guide(list(), '--line', '2', '--force')).status).toBe(0);
    expect(readFileSync(output).equals(before)).toBe(false);
    const self = await inProcess(['guide', output, '-o', output, '--force']);
    expect(self.stderr).toMatch(/is the input itself/);
  });
});

test('a count-in without a beat says how it counts, and with one does not', async () => {
  const told = /no beat is known: four clicks count in at the pace of the first notes/;
  const loose = await guide(places.at('two.mid'), '--count-in');
  expect(loose).toMatchObject({ status: 0, stderr: expect.stringMatching(told) });
  const counted = await guide(
    places.at('two.mid'),
    '--count-in',
    '--force',
    '--bpm',
    '120',
    '--downbeat',
    '0',
  );
  expect(counted).toMatchObject({ status: 0, stderr: expect.not.stringMatching(told) });
});
