/** The command `grade`: what it prints, in what order, and what becomes of inputs that cannot be read. */
import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { CAUTION } from '../../src/write/caution.js';
import { makePlaces } from './places.js';
import { fixture, inProcess, type Surroundings } from './run.js';

const places = makePlaces();
afterAll(places.remove);

/** A note list of notes so long, one after the other, eight a line. */
function list(seconds: number, names: readonly string[]): string {
  const rows = names.map((name, i) => {
    const start = (i * seconds).toFixed(3);
    return `${Math.floor(i / 8) + 1}\t-\t-\t${start}\t${seconds.toFixed(3)}\t${name}\t0\t1.00\t-\t`;
  });
  return ['# cantilena note list 1', ...rows, ''].join('\n');
}

const SLOW = ['C4', 'C4', 'D4', 'D4', 'E4', 'E4', 'D4', 'C4'];
const FAST = [
  'C4',
  'A4',
  'D4',
  'Bb4',
  'E4',
  'C5',
  'F#4',
  'D5',
  'G4',
  'Eb5',
  'F4',
  'B4',
  'A4',
  'E5',
  'C4',
  'G#4',
];
const slow = places.at('slow.txt');
const middle = places.at('middle.txt');
const fast = places.at('fast.txt');
writeFileSync(slow, list(1, SLOW));
writeFileSync(middle, list(0.25, SLOW));
writeFileSync(fast, list(0.125, FAST));

const run = (args: readonly string[], around?: Surroundings) => inProcess(['grade', ...args], around);

interface Printed {
  readonly file: string;
  readonly level: number;
  readonly reasons: readonly string[];
}

async function json(...args: string[]): Promise<Printed[]> {
  const { status, stdout, stderr } = await run([...args, '--json', '--quiet']);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return JSON.parse(stdout) as Printed[];
}

describe('what it prints', () => {
  test('several, the easiest first, where to begin and what makes each harder than the one before', async () => {
    const { status, stdout, stderr } = await run([fast, slow, middle]);
    expect(status).toBe(0);
    expect(stderr).toBe(
      `${fast}: 16 notes read from a note list.\n${slow}: 8 notes read from a note list.\n${middle}: 8 notes read from a note list.\n`,
    );
    const [first, second, third, advice] = stdout.split('\n\n').map((block) => block.replace(/\n +/g, ' '));
    expect(first).toMatch(
      /^1\. grade [12] of 10, very easy: \S+slow\.txt start with this one .*3 different notes/,
    );
    expect(second).toMatch(
      /^2\. grade \d of 10, [a-z ]+: \S+middle\.txt harder than \S+slow\.txt: a quarter of the notes last 0\.25 s or less \(there: a quarter of the notes last 1\.00 s or less\)/,
    );
    expect(third).toMatch(/^3\. grade \d+ of 10, [a-z ]+: \S+fast\.txt harder than \S+middle\.txt: /);
    expect(advice).toBe(`${CAUTION}\n`);
  });

  test('one alone, with all its reasons and what each adds to 1', async () => {
    const { stdout } = await run([middle, '--quiet']);
    const [graded] = await json(middle);
    const reasons = [...stdout.matchAll(/^ {2}\+(\d\.\d) {2}(.+)$/gm)];
    expect(reasons.map(([, , words]) => words)).toEqual(graded!.reasons);
    const sum = reasons.reduce((total, [, adds]) => total + Number(adds), 1);
    expect(Math.abs(sum - graded!.level)).toBeLessThan(0.5);
    expect(stdout).toContain('from 1, this adds');
  });

  test('two that are as hard keep the order in which they were named', async () => {
    expect((await json(middle, slow, slow)).map(({ file }) => file)).toEqual([slow, slow, middle]);
    expect((await run([slow, slow, '--quiet'])).stdout).toContain(`as hard as ${slow}`);
  });

  test('JSON has file, level and reasons, sorted', async () => {
    const grades = await json(fast, middle, slow);
    expect(grades.map(({ file }) => file)).toEqual([slow, middle, fast]);
    for (const grade of grades) {
      expect(Object.keys(grade)).toEqual(['file', 'level', 'reasons']);
      expect(grade.reasons).toHaveLength(11);
    }
    const levels = grades.map(({ level }) => level);
    expect(levels).toEqual([...levels].sort((a, b) => a - b));
  });

  test('the level is that of notes --json', async () => {
    const { stdout } = await inProcess(['notes', middle, '--json', '--quiet']);
    const { grade } = JSON.parse(stdout) as { grade: Printed };
    const [own] = await json(middle);
    expect([own!.level, own!.reasons]).toEqual([grade.level, grade.reasons]);
  });

  test('a terminal gets colours and lines that fit', async () => {
    const { stdout } = await run([fast, slow, '--quiet'], { terminal: 60, env: { TERM: 'xterm' } });
    expect(stdout).toContain('\x1b[1mgrade ');
    const plain = await run([fast, slow, '--quiet'], { terminal: 60, env: { NO_COLOR: '1' } });
    for (const line of plain.stdout.split('\n').filter((text) => !text.includes(places.folder))) {
      expect(line.length).toBeLessThanOrEqual(60);
    }
  });

  test('a recording is heard, and options on hearing are for the recordings among the inputs', async () => {
    const [a, b] = await json(fixture('sung-joy.flac'), fast, '--source', 'solo', '--lowest', 'E2');
    expect([a!.file, b!.file]).toEqual([fixture('sung-joy.flac'), fast]);
  });

  test('standard input', async () => {
    const { status, stdout } = await run(['-', fast, '--json', '--quiet'], { stdin: list(1, SLOW) });
    expect(status).toBe(0);
    expect((JSON.parse(stdout) as Printed[]).map(({ file }) => file)).toEqual(['-', fast]);
  });
});

describe('options that change a grade', () => {
  test('--bpm and --meter, of one input', async () => {
    // Twice as fast a beat makes of notes on the beat notes on every other.
    const [free] = await json(fast, '--bpm', '240');
    const [fine] = await json(fast, '--bpm', '60', '--downbeat', '0');
    const between = (one: Printed) => one.reasons.find((words) => words.includes('between the eighths'));
    expect(between(free!)).toBe('no note begins between the eighths');
    expect(between(fine!)).toMatch(/^\d+ % of the notes begin between the eighths$/);
  });
});

describe('inputs that cannot be read', () => {
  test('of several are said in a sentence each, also with --quiet, and the others are graded', async () => {
    const missing = places.at('none.mid');
    const { status, stdout, stderr } = await run([
      missing,
      fast,
      places.at('not-json.json'),
      slow,
      places.at('no-notes.txt'),
      places.at('folder'),
      '--json',
      '--quiet',
    ]);
    expect(status).toBe(1);
    expect((JSON.parse(stdout) as Printed[]).map(({ file }) => file)).toEqual([slow, fast]);
    const sentences = stderr.trimEnd().split('\n');
    expect(sentences).toHaveLength(4);
    for (const sentence of sentences) expect(sentence).toMatch(/^cantilena: .*\.$/);
    for (const name of ['none.mid', 'not-json.json', 'no-notes.txt', 'folder'])
      expect(stderr).toContain(name);
  });

  test('where all of several are, nothing is graded', async () => {
    const inputs = [places.at('none.mid'), places.at('not-json.json')];
    expect(await run(inputs)).toMatchObject({ status: 1, stdout: '' });
    expect(await run([...inputs, '--json'])).toMatchObject({ status: 1, stdout: '[]\n' });
  });

  test.each([
    ['none.mid', 3],
    ['not-json.json', 3],
    ['no-notes.txt', 4],
  ])('%s alone ends with its own status, %d', async (name, wanted) => {
    const { status, stdout, stderr } = await run([places.at(name)]);
    expect({ status, stdout }).toEqual({ status: wanted, stdout: '' });
    expect(stderr).toMatch(/^cantilena: [^\n]+\.\n$/);
  });
});

test('names of inputs are words for people, without what a terminal would obey', async () => {
  const named = places.at('red\u001b[31m.notes');
  writeFileSync(named, readFileSync(slow));
  expect((await run([named, '--quiet'])).stdout).toMatch(/^grade \d+ of 10, .*: \S+red \[31m\.notes\n/);
  const piped = await inProcess(['grade', '-', '--quiet'], { stdin: readFileSync(slow) });
  expect(piped.stdout).toMatch(/^grade \d+ of 10, .*: standard input\n/);
});

describe('what is wrong is said in one sentence', () => {
  test.each([
    [[], /there is no input: name one or more/],
    [[''], /name of the input is empty/],
    [['-', '-'], /only one input can come from standard input/],
    [[slow, fast, '--bpm', '90'], /--bpm is true of one song, and 2 inputs were given/],
    [[slow, fast, '--from', '0:10'], /--from is true of one song/],
    [[slow, '--source', 'mix'], /--source is for recordings, and \S+ is a note list/],
    [[slow, fast, '--source', 'mix'], /--source is for recordings, and there is none among the inputs/],
    [[slow, '--lowest', 'H9'], /--lowest/],
    [[slow, '--key', 'F'], /no option --key/],
    [[slow, '--jsn'], /no option --jsn: did you mean --json\?/],
  ])('%j', async (args, sentence) => {
    const { status, stdout, stderr } = await run(args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr.trimEnd().split('\n').at(-1)).toMatch(sentence);
  });

  test('a mistyped command', async () => {
    const { stderr } = await inProcess(['grdae', slow, fast]);
    expect(stderr).toMatch(/there is no command grdae: did you mean grade\?/);
  });
});
