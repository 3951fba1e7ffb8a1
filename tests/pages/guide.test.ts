/** docs/guide.md shows what its commands print (npm run pages writes it, with the compiled program in a real shell). */
import { mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ROOT, read } from './pages.js';
import { printedBy } from './shell.js';

const home = process.cwd();
const folder = mkdtempSync(join(tmpdir(), 'cantilena-guide-'));
beforeAll(() => {
  symlinkSync(join(ROOT, 'fixtures'), join(folder, 'fixtures'));
  process.chdir(folder);
});
afterAll(() => {
  process.chdir(home);
  rmSync(folder, { recursive: true });
});

/** The commands of the page, each with the lines shown under it. */
function commands(page: string): { command: string; shown: string[] }[] {
  const found: { command: string; shown: string[] }[] = [];
  let isShown = false;
  for (const line of page.split('\n')) {
    if (line.startsWith('    $ ')) found.push({ command: line.slice(6), shown: [] });
    isShown = line.startsWith('    $ ') || (isShown && (line === '' || line.startsWith('    ')));
    if (isShown && !line.startsWith('    $ ')) found.at(-1)!.shown.push(line.slice(4));
  }
  return found;
}

/** Ten commands hear a recording or write sheets and sound: some eight seconds of a processor. */
const TIMEOUT_MS = 120_000;

test('the guide shows what its commands print', { timeout: TIMEOUT_MS }, async () => {
  const page = read('docs/guide.md');
  const columns = Number(/on a terminal of (\d+) columns/.exec(page)![1]);
  const all = commands(page);
  expect(all.length).toBeGreaterThan(12);
  for (const { command, shown } of all) {
    const lines = await printedBy(command, columns);
    expect(lines.join('\n'), command).toBe(shown.join('\n').trimEnd());
  }
});
