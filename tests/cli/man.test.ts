/** The manual page: it is up to date, it agrees with docs/commands.md, and readers of manuals take it. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { COMMAND_NAMES } from '../../src/cli/command-names.js';
import { manPage } from '../../src/cli/man.js';
import { ENVIRONMENT, EXIT_STATUSES } from '../../src/cli/man-words.js';
import { ROOT } from './run.js';

const PAGE = join(ROOT, 'docs/cantilena.1');
const read = (name: string) => readFileSync(join(ROOT, name), 'utf8');
const { version, man } = JSON.parse(read('package.json')) as { version: string; man: string[] };

/** First cells of the table under a heading of docs/commands.md. */
function firstCells(heading: string): string[] {
  const part = read('docs/commands.md').split(`## ${heading}\n`)[1]!.split('\n## ')[0]!;
  return [...part.matchAll(/^\| `?([A-Z_]+|\d+)`? +\|/gm)].map((row) => row[1]!);
}

const has = (program: string, ...args: string[]) => spawnSync(program, args).error === undefined;

describe('the manual page', () => {
  test('is up to date: else run npm run man', () => {
    expect(read('docs/cantilena.1')).toBe(manPage(version));
    // As a list: npm links a page named by a plain string nowhere.
    expect(man).toEqual(['docs/cantilena.1']);
  });

  test('has a section for each command, and its examples', () => {
    const page = manPage(version);
    for (const name of COMMAND_NAMES) {
      const section = page.split(`.SS "cantilena ${name}"\n`)[1]!.split('\n.SS')[0]!;
      expect(section).toMatch(new RegExp(`Examples:\\n\\.TP\\n.*cantilena ${name}`, 's'));
    }
  });

  test('knows the exit statuses and variables of docs/commands.md', () => {
    expect(EXIT_STATUSES.map(([status]) => status)).toEqual(firstCells('Exit statuses'));
    expect(ENVIRONMENT.map(([name]) => name)).toEqual(firstCells('Environment'));
  });

  test.skipIf(!has('groff', '--version'))('groff takes it without a warning (needs groff)', () => {
    const { status, stderr, stdout } = spawnSync('groff', ['-man', '-ww', '-Tutf8', '-P-cbou', PAGE], {
      encoding: 'utf8',
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toContain('--pitch-track file');
    expect(stdout).toContain('solfège');
  });

  test.skipIf(!has('mandoc', '-V'))('mandoc finds nothing but the missing date (needs mandoc)', () => {
    const { stdout } = spawnSync('mandoc', ['-T', 'lint', '-W', 'warning', PAGE], { encoding: 'utf8' });
    expect(stdout.split('\n').filter((line) => line !== '' && !line.includes('missing date'))).toEqual([]);
  });
});
