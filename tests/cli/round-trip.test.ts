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
