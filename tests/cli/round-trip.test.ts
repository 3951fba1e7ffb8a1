/** What the program writes it reads, corrected or not. */
import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import { LIST, makePlaces } from './places.js';
import { fixture, inProcess } from './run.js';

const places = makePlaces();
afterAll(places.remove);

const rows = (list: string) =>
  list
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split('\t'));
const column = (list: string, index: number) => rows(list).map((row) => row[index]);
const NOTE = 5;

test('a list that was heard, with one note corrected, comes back with that note', async () => {
  const heard = (await inProcess([fixture('hummed-sharp.wav')])).stdout;
  const third = rows(heard)[2]!;
  const corrected = heard.replace(third.join('\t'), third.with(NOTE, 'E4').join('\t'));
  writeFileSync(places.at('corrected.txt'), corrected);
  const back = await inProcess([places.at('corrected.txt')]);
  expect(back.status).toBe(0);
  expect(column(back.stdout, NOTE)).toEqual(column(heard, NOTE).with(2, 'E4'));
  expect(column(back.stdout, 3)).toEqual(column(heard, 3));
  expect(column(back.stdout, 4)).toEqual(column(heard, 4));
  expect(back.stdout).toContain(heard.split('\n').find((line) => line.startsWith('# tuning-cents'))!);
});

test('a list that is not touched comes back the same, and so does its JSON', async () => {
  const args = ['--bpm', '120', '--meter', '3', '--downbeat', '0.5'];
  const first = (await inProcess([places.at('list.txt'), ...args])).stdout;
  expect((await inProcess(['-'], { stdin: first })).stdout).toBe(first);
  const json = (await inProcess(['-', '--json'], { stdin: first })).stdout;
  expect((await inProcess(['-', '--json'], { stdin: json })).stdout).toBe(json);
  expect((await inProcess(['-'], { stdin: json })).stdout).toBe(first);
});

test('a MIDI file that was written gives the same notes, lines and bars', async () => {
  const path = places.at('written.mid');
  const beat = ['--bpm', '120', '--meter', '3/4', '--downbeat', '0'];
  const list = (await inProcess([places.at('list.txt'), '--midi', path, ...beat])).stdout;
  const back = await inProcess([path]);
  expect(back.status).toBe(0);
  for (const index of [0, 1, 2, 3, 4, NOTE]) expect(column(back.stdout, index)).toEqual(column(list, index));
  expect(readFileSync(path).toString('latin1')).toContain('list');
});

/** A song that slows down, in 6/8, with a pickup of an eighth. */
const SLOWING = (() => {
  const beats = Array.from({ length: 31 }, (_, i) => 0.2 + 0.3 * i + 0.002 * i * i);
  const starts = [5, 6, 8, 9, 11, 12, 13, 14, 15, 17, 18, 21].map((beat) => [beats[beat]!, beats[beat + 1]!]);
  const row = ([start, end]: number[], i: number) =>
    `${i < 6 ? 1 : 2}\t-\t-\t${start!.toFixed(3)}\t${(end! - start! - 0.005).toFixed(3)}\t${'CDEFGA'[i % 6]}4\t0\t1.00\t1\t`;
  return [
    '# beats-per-bar 6',
    '# beat-unit 8',
    `# first-downbeat ${beats[6]!.toFixed(3)}`,
    `# beat-seconds ${beats.map((time) => time.toFixed(3)).join(' ')}`,
    ...starts.map(row),
  ].join('\n');
})();

test('beats of a varying tempo come back: from the list, from JSON, and from MIDI to a millisecond', async () => {
  const run = async (...args: string[]) => (await inProcess(args)).stdout;
  const json = async (input: string) =>
    JSON.parse((await inProcess(['-', '--json'], { stdin: input })).stdout);
  const path = places.at('slowing.mid');
  const list = (await inProcess(['-', '--midi', path], { stdin: SLOWING })).stdout;
  expect((await inProcess(['-'], { stdin: list })).stdout).toBe(list);
  const held = list.match(/^# beat-seconds .*$/gm)!.flatMap((line) => line.split(' ').slice(2).map(Number));
  expect(SLOWING).toContain(held.map((time) => time.toFixed(3)).join(' '));
  const melody = await json(list);
  expect(melody.tempo.beats).toEqual(held);
  expect((await inProcess(['-'], { stdin: JSON.stringify(melody) })).stdout).toBe(list);

  const back = await run(path);
  for (const index of [0, 1, 2, NOTE]) expect(column(back, index)).toEqual(column(list, index));
  expect(column(back, 1)[0]).toBe('0');
  const again = await json(back);
  expect(again.meter).toMatchObject({ beatsPerBar: 6, beatUnit: 8 });
  expect(again.tempo.beats).toHaveLength(held.length);
  again.tempo.beats.forEach((time: number, i: number) => {
    expect(Math.abs(time - held[i]!)).toBeLessThanOrEqual(0.0011);
  });
  expect(again.lines.map(({ first }: { first: number }) => first)).toEqual([1, 7]);
});

test('a tempo, or another beat, on the command line makes the beats anew; bars and downbeat only count them anew', async () => {
  const beats = async (...args: string[]) =>
    (await inProcess(['-', ...args], { stdin: SLOWING })).stdout.match(/^# beat-seconds .*$/m)?.[0];
  expect(await beats()).toMatch(/^# beat-seconds 0\.200 0\.502/);
  expect(await beats('--meter', '3/8', '--downbeat', '0.5')).toMatch(
    /^# beat-seconds -0\.404 -0\.102 0\.200 0\.502/,
  );
  expect(await beats('--bpm', '100')).toBeUndefined();
  expect((await beats('--meter', '3/4')) ?? '').not.toContain(' 0.200 0.502');
});

test('a score of the varying beats has the bars of the list', async () => {
  const path = places.at('slowing.musicxml');
  const list = (await inProcess(['-', '--musicxml', path], { stdin: SLOWING })).stdout;
  const bars = readFileSync(path, 'utf8').match(/<measure number="\d+"/g)!;
  expect(bars).toHaveLength(Number(column(list, 1).at(-1)) + 1);
  expect(bars[0]).toBe('<measure number="0"');
});

test('what the command line says wins over what the file says', async () => {
  const stdin = `# tempo-bpm 120\n# beats-per-bar 3\n# first-downbeat 0.5\n${LIST}`;
  const header = async (...args: string[]) =>
    (await inProcess(['-', ...args], { stdin })).stdout
      .split('\n')
      .filter((line) => /^# (tempo|beats|first)/.test(line));
  expect(await header()).toEqual(['# tempo-bpm 120', '# beats-per-bar 3', '# first-downbeat 0.500']);
  expect(await header('--bpm', '60')).toContain('# tempo-bpm 60');
  expect(await header('--meter', '6/8')).toContain('# beats-per-bar 6');
  expect(await header('--meter', '2')).toContain('# beats-per-bar 2');
  expect(await header('--downbeat', '0:01')).toContain('# first-downbeat 1.000');
});
