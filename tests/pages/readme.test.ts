/** What the README shows of the program's output is what it prints, though less of it. */
import { describe, expect, test } from 'vitest';
import { fixture, inProcess } from '../cli/run.js';
import { read } from './pages.js';

const INPUT = fixture('sung-amazing-grace.ogg');
const COLUMNS = 80;

/** The indented block that begins with a line. */
function blockFrom(first: string): string[] {
  const lines = read('README.md').split('\n');
  const from = lines.indexOf(`    ${first}`);
  const length = lines.slice(from).findIndex((line) => line !== '' && !line.startsWith('    '));
  return lines.slice(from, from + length).flatMap((line) => (line === '' ? [] : [line.slice(4).trimEnd()]));
}

/** Lines that are missing from the output, or stand there in another order. */
function missing(shown: readonly string[], output: string): string[] {
  let left = output.split('\n').map((line) => line.trimEnd());
  return shown.filter((line) => {
    const at = left.indexOf(line);
    left = left.slice(at + 1);
    return at < 0;
  });
}

describe('the README', () => {
  test('shows a melody as a terminal does', async () => {
    const { stdout } = await inProcess([INPUT, '--quiet'], {
      terminal: COLUMNS,
      env: { NO_COLOR: '1' },
    });
    const shown = blockFrom('line 1 · 0:00.6–0:04.2 · bars 0–2');
    expect(shown.length).toBeGreaterThan(15);
    expect(missing(shown, stdout)).toEqual([]);
  });

  test('shows the note list that goes into a pipe', async () => {
    const { stdout } = await inProcess([INPUT]);
    const shown = blockFrom('# cantilena note list 1');
    expect(shown.length).toBeGreaterThan(8);
    expect(missing(shown, stdout)).toEqual([]);
  });
});
