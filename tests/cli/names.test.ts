/** `--names`: what people read in another system, what programs read unchanged. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makePlaces, type Places } from './places.js';
import { inProcess } from './run.js';

let places: Places;
beforeAll(() => {
  places = makePlaces();
});
afterAll(() => places.remove());

const notesOf = (list: string) =>
  list
    .split('\n')
    .filter((line) => /^\d/.test(line))
    .map((line) => line.split('\t')[5]);

test('a list in another system is given back to any command', async () => {
  const list = places.at('list.txt');
  const english = await inProcess(['notes', list]);
  for (const names of ['german', 'solfege', 'degrees']) {
    const other = await inProcess(['notes', list, '--names', names]);
    expect(other.status).toBe(0);
    expect(notesOf(other.stdout)).not.toEqual(notesOf(english.stdout));
    const back = await inProcess(['notes', '-'], { stdin: other.stdout });
    expect(back.stdout).toBe(english.stdout);
  }
});

test('the screen, the folder and another key have the names; JSON and MIDI do not', async () => {
  const list = places.at('list.txt');
  const args = ['notes', list, '--names', 'german'];
  const screen = await inProcess(args, { terminal: 80, env: { NO_COLOR: '1' } });
  expect(screen.stdout).toMatch(/^ {2}B4 /m);
  await inProcess([...args, '--out', places.at('german')]);
  expect(readFileSync(places.at('german/list.notes'), 'utf8')).toContain('# names german');
  await inProcess(['notes', list, '--out', places.at('english')]);
  for (const file of ['list.json', 'list.mid']) {
    expect(readFileSync(places.at(`german/${file}`))).toEqual(readFileSync(places.at(`english/${file}`)));
  }
  const moved = await inProcess(['transpose', list, '--by', 'm2', '--names', 'german']);
  expect(moved.stdout).toContain('# names german');
});

test.each([
  [['--names', 'dutch'], '--names takes english, german, solfège or degrees, not dutch'],
  [['--names', 'german', '--json'], 'JSON always has English names: leave --names out.'],
])('%j is refused in one sentence', async (args, sentence) => {
  const { status, stdout, stderr } = await inProcess(['notes', places.at('list.txt'), ...args]);
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr).toContain(`cantilena: ${sentence}`);
});
