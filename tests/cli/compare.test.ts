/** The command `compare`: what it prints, where it fails, and with which exit status. */
import { writeFileSync } from 'node:fs';
import { stripVTControlCharacters } from 'node:util';
import { afterAll, describe, expect, test } from 'vitest';
import { checkLengths } from '../../src/cli/compare.js';
import { LIST, makePlaces } from './places.js';
import { fixture, inProcess, type Surroundings } from './run.js';

const places = makePlaces();
afterAll(places.remove);
const list = places.at('list.txt');
/** The list with its first G4 a semitone too high. */
const wrong = places.at('wrong.txt');
writeFileSync(wrong, LIST.replace('\tG4\t', '\tG#4\t'));
/** Its first line alone, a tone higher. */
const line = places.at('line.txt');
const FIRST_LINE = { C4: 'D4', D4: 'E4', E4: 'F#4', F4: 'G4', G4: 'A4', C5: 'D5' };
writeFileSync(
  line,
  LIST.split('\n')
    .filter((row) => !row.startsWith('2\t'))
    .map((row) =>
      row.replace(/\t([A-G]\d)\t/, (_, name: keyof typeof FIRST_LINE) => `\t${FIRST_LINE[name]}\t`),
    )
    .join('\n'),
);

const run = (args: readonly string[], around?: Surroundings) => inProcess(['compare', ...args], around);

async function said(...args: string[]) {
  const { status, stderr } = await run(args);
  expect(stderr, 'one sentence').toMatch(/^cantilena: [^\n]+[.?]\n$/);
  return { status, stderr };
}

describe('what it prints', () => {
  test('a pipe gets plain text of 80 columns', async () => {
    const { status, stdout, stderr } = await run([list, wrong]);
    expect(status).toBe(0);
    expect(stderr).toBe(
      `${list}: 12 notes read from a note list.\n${wrong}: 12 notes read from a note list.\n`,
    );
    expect(stdout).toBe(
      [
        '11 of 12 notes right; score 0.92',
        'compared with the melody: in the same key, at its tempo',
        'safe: line 2',
        '',
        'line 1 · 5 of 6 right',
        '  C4    D4    E4    F4    G4^1  C5',
        '',
        'line 2 · safe',
        '  Bb4  E4   D5   F4   E5   C4',
        '',
        '^ so many semitones too high',
        '',
        'look first at note 5',
        '  note 5 (G4) is a semitone too high.',
        '',
        "Slowly, a line at a time. Rest often, and stop when it hurts. A teacher's advice",
        'comes first.',
        '',
      ].join('\n'),
    );
  });

  test('a terminal gets no more columns than it has, with colours unless they are not wanted', async () => {
    const plain = await run([list, wrong], { terminal: 80, env: { NO_COLOR: '1' } });
    expect(plain.stdout).toBe((await run([list, wrong])).stdout);
    const narrow = await run([list, wrong], { terminal: 30, env: { NO_COLOR: '1' } });
    for (const text of narrow.stdout.split('\n')) expect(text.length).toBeLessThanOrEqual(30);
    const coloured = await run([list, wrong], { terminal: 80, env: { TERM: 'xterm' } });
    expect(coloured.stdout).toContain('\x1b[33mG4^1\x1b[39m');
    expect(stripVTControlCharacters(coloured.stdout)).toBe(plain.stdout);
  });

  test('right keys that were sung far from their middle are sharp or flat', async () => {
    const sung = LIST.replace('# seconds', '# source solo\n# seconds')
      .replace('\tG4\t0\t', '\tG4\t40\t')
      .replace('\tC5\t0\t', '\tC5\t-30\t');
    writeFileSync(places.at('sung.txt'), sung);
    const { stdout } = await run([list, places.at('sung.txt'), '--quiet']);
    expect(stdout).toContain('the right note, but not in tune: 5 (40 cents sharp) and 6 (30 cents flat)\n');
  });

  test('JSON with the fields that scripts rely on', async () => {
    const { stdout } = await run([list, wrong, '--json', '--quiet']);
    const result = JSON.parse(stdout);
    expect(result).toMatchObject({ transposition: 0, tempoRatio: 1, score: 0.917 });
    expect(result.notes).toHaveLength(12);
    expect(result.notes[0]).toEqual({
      target: 1,
      attempt: 1,
      verdict: 'right',
      semitones: 0,
      cents: 0,
      seconds: 0,
      probable: false,
      sung: null,
      tried: null,
    });
    expect(result.notes[4]).toMatchObject({ verdict: 'too high', semitones: 1, cents: 100 });
    expect(result.summary).toMatchObject({ lookFirst: 5, lines: [{ safe: false }, { safe: true }] });
  });

  test('a recording is heard, and a voice is right on a piano’s keys', { timeout: 30_000 }, async () => {
    const [sung, piano] = [fixture('sung-joy.flac'), fixture('piano-joy.opus')];
    const { status, stdout } = await run([piano, sung, '--json', '--quiet', '--fail-under', '0.9']);
    expect(status).toBe(0);
    expect(JSON.parse(stdout).transposition).toBe(0);
    expect(JSON.parse(stdout).notes[0].sung).toBeCloseTo(0, -2);
  });
});

describe('options', () => {
  test('--line takes one line of the melody for the whole', async () => {
    const { stdout } = await run([list, line, '--line', '1', '--json', '--quiet']);
    expect(JSON.parse(stdout)).toMatchObject({ transposition: 2, score: 1 });
    const whole = await run([list, line, '--json', '--quiet']);
    expect(JSON.parse(whole.stdout).score).toBe(0.5);
  });

  test('--same-key calls another key wrong', async () => {
    const { stdout } = await run([list, line, '--line', '1', '--same-key', '--json', '--quiet']);
    expect(JSON.parse(stdout)).toMatchObject({ transposition: 0, score: 0 });
  });

  test('--fail-under sets the exit status, and all is printed', async () => {
    const [passed, failed] = [
      await run([list, wrong, '--fail-under', '0.9', '--quiet']),
      await run([list, wrong, '--fail-under', '0.95', '--quiet']),
    ];
    expect([passed.status, failed.status]).toEqual([0, 1]);
    expect(failed.stdout).toBe(passed.stdout);
    expect(failed.stderr).toBe('');
  });

  test('one of the two may come from standard input', async () => {
    const { status, stdout } = await run(['-', wrong, '--json', '--quiet'], { stdin: LIST });
    expect(status).toBe(0);
    expect(JSON.parse(stdout).score).toBe(0.917);
  });
});

describe('what is wrong is said in one sentence', () => {
  test.each([
    [[], /there is nothing to compare: name the melody and your attempt/],
    [['a.txt'], /only a\.txt was named: name the melody first/],
    [['a', 'b', 'c'], /two inputs are compared, and 3 were given \(a, b, c\)/],
    [['-', '-'], /only one of the two can come from standard input/],
    [['', 'b'], /name of the input is empty/],
    [['@list.txt', '@wrong.txt', '--line', '0'], /--line takes the number of a line/],
    [['@list.txt', '@wrong.txt', '--line', '3'], /no line 3, since the melody has 2 lines/],
    [['@list.txt', '@wrong.txt', '--fail-under', '2'], /--fail-under takes a score from 0 to 1, not 2/],
    [['@list.txt', '@wrong.txt', '--sam-key'], /no option --sam-key: did you mean --same-key\?/],
  ])('%j', async (args, sentence) => {
    const { status, stderr } = await run(
      args.map((arg) => (arg.startsWith('@') ? places.at(arg.slice(1)) : arg)),
    );
    expect(stderr).toMatch(sentence);
    expect(status).toBe(2);
  });

  test('hearing options for what is not heard', async () => {
    expect((await run([list, wrong, '--source', 'solo'])).stderr).toMatch(/--source is for recordings/);
    expect((await run([list, wrong, '--target-source', 'mix'])).stderr).toMatch(
      /--target-source is for recordings/,
    );
  });

  test('an input that is missing, before anything is heard', async () => {
    expect(await said(fixture('sung-joy.flac'), places.at('none.mid'))).toMatchObject({ status: 3 });
  });

  test('more notes than memory holds', () => {
    expect(() => checkLengths(5000, 5000)).not.toThrow();
    expect(() => checkLengths(5000, 7000)).toThrow(/^5000 notes and 7000 notes are too many to compare: /);
  });

  test('an input that is no melody', async () => {
    expect(await said(places.at('not-json.json'), wrong)).toMatchObject({ status: 3 });
  });

  test('a mistyped command', async () => {
    const { status, stderr } = await inProcess(['compar', list, wrong]);
    expect(stderr).toMatch(/there is no command compar: did you mean compare\?/);
    expect(status).toBe(2);
  });
});
