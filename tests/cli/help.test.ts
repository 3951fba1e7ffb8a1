/** Help texts: they fit the terminal, and their examples can be pasted. */
import { describe, expect, test } from 'vitest';
import { COMMAND_NAMES } from '../../src/cli/command-names.js';
import { examplesOf, examplesText } from '../../src/cli/help-layout.js';
import { planOf } from '../../src/cli/plan.js';
import { programOf } from '../../src/cli/program.js';
import { inProcess } from './run.js';

const ASKED = [['--help'], ...COMMAND_NAMES.map((name) => [name, '--help'])];

describe('help texts', () => {
  test.each([60, 80, 100])('fit %i columns', (width) => {
    for (const argv of ASKED) {
      const plan = planOf(argv, width);
      const lines = plan.kind === 'help' ? plan.text.split('\n') : [];
      expect(lines.length).toBeGreaterThan(10);
      expect(
        lines.filter((line) => line.length > width),
        argv.join(' '),
      ).toEqual([]);
    }
  });

  test('are no wider than 100 columns on a wide terminal', async () => {
    const { stdout } = await inProcess(['guide', '--help'], { terminal: 200 });
    const widest = Math.max(...stdout.split('\n').map((line) => line.length));
    expect(widest).toBeGreaterThan(80);
    expect(widest).toBeLessThanOrEqual(100);
  });

  test('have 80 columns where a terminal does not tell how many it has', async () => {
    const untold = await inProcess(['transpose', '--help'], { terminal: 0 });
    expect(untold.stdout).toBe((await inProcess(['transpose', '--help'], { terminal: 80 })).stdout);
    expect((await inProcess(['transpose', '--help'])).stdout).toBe(untold.stdout);
  });

  test('a usage is broken between options, not inside one', () => {
    const plan = planOf(['transpose', '--help'], 60);
    expect(plan).toMatchObject({
      text: expect.stringMatching(
        /^Usage: cantilena transpose <input> \(--to <keys> \|\n {7}--by <interval> \| --plan <number>\) \[options\]\n/,
      ),
    });
  });
});

describe('examples', () => {
  test('a long one is broken as a shell takes it', () => {
    expect(examplesText([['cantilena song.m4a -o line.wav --line 3 --count-in > log', 'a line']], 32)).toBe(
      [
        '',
        'Examples:',
        '  cantilena song.m4a \\',
        '    -o line.wav --line 3 \\',
        '    --count-in > log',
        '      a line',
        '',
      ].join('\n'),
    );
  });

  test('every one is taken by the parser', () => {
    const own = programOf(() => {}).commands.flatMap((command) => examplesOf(command));
    expect(own.length).toBeGreaterThan(20);
    for (const [line] of own) {
      const [, words = ''] = /cantilena ([^|>)]*)/.exec(line) ?? [];
      expect(planOf(words.trim().split(' '), 80).kind, line).toBe('task');
    }
  });
});
