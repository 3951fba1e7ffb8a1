/** Completions: the scripts are read by the shells themselves, and asked what they offer. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COMMAND_NAMES } from '../../src/cli/command-names.js';
import { inProcess } from './run.js';

const folder = mkdtempSync(join(tmpdir(), 'cantilena-completions-'));
afterAll(() => rmSync(folder, { recursive: true }));

const script = async (shell: string) => (await inProcess(['completions', shell])).stdout;
const installed = (shell: string) => spawnSync(shell, ['--version']).status === 0;

beforeAll(async () => {
  writeFileSync(join(folder, 'song one.m4a'), '');
  writeFileSync(join(folder, 'grow.mid'), '');
  mkdirSync(join(folder, 'songs'));
  for (const shell of ['bash', 'zsh', 'fish']) {
    writeFileSync(join(folder, `cantilena.${shell}`), await script(shell));
  }
});

/** Runs lines of a shell in the folder; what they print, a line each. */
function asked(shell: string, lines: string, args: readonly string[] = []): string[] {
  const { status, stdout, stderr } = spawnSync(shell, [...args, '-c', lines], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, HOME: folder, LC_ALL: 'C.UTF-8' },
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return stdout.split('\n').filter((line) => line !== '');
}

/** What bash offers for the last of these words; `compopt` says for which of them it completes itself. */
function bash(...words: string[]): string[] {
  const list = words.map((word) => `'${word}'`).join(' ');
  return asked(
    'bash',
    `source ./cantilena.bash; compopt() { :; }; COMP_WORDS=(cantilena ${list}); COMP_CWORD=${words.length}
     _cantilena; printf '%s\\n' "\${COMPREPLY[@]}"`,
    ['--norc'],
  );
}

describe.skipIf(!installed('bash'))('bash, where it is installed', () => {
  test('completes commands, and files where a recording may stand', () => {
    expect(bash('')).toEqual(expect.arrayContaining([...COMMAND_NAMES, 'help', 'song one.m4a', 'songs']));
    expect(bash('gr')).toEqual(['grade', 'grow.mid']);
    expect(bash('help', 'tr')).toEqual(['transpose']);
  });

  test('completes the options of the command, and those of notes where none is named', () => {
    expect(bash('transpose', 'grow.mid', '--w')).toEqual(['--within']);
    expect(bash('compare', '--embed')).toEqual([]);
    expect(bash('song one.m4a', '--embed')).toEqual(['--embed-audio']);
    expect(bash('--ver')).toEqual(['--version']);
  });

  test('completes the values of an option, also after =', () => {
    expect(bash('notes', '--source', '')).toEqual(['auto', 'solo', 'mix']);
    expect(bash('grow.mid', '--hand', 's')).toEqual(['small']);
    expect(bash('scales', '--names', '=', 'so')).toEqual(['solfège']);
    expect(bash('scales', '--names', '=')).toEqual(['english', 'german', 'solfège', 'degrees']);
    expect(bash('completions', '')).toEqual(['bash', 'zsh', 'fish']);
  });

  test('completes files and folders, and nothing for a number', () => {
    expect(bash('notes', '--midi', 's')).toEqual(expect.arrayContaining(['song one.m4a', 'songs']));
    expect(bash('notes', '--out', 's')).toEqual(['songs']);
    expect(bash('batch', 's')).toEqual(['songs']);
    expect(bash('scales', 'song')).toEqual(expect.arrayContaining(['song one.m4a']));
    expect(bash('notes', '--bpm', '')).toEqual([]);
    expect(bash('doctor', '')).toEqual([]);
  });
});

describe.skipIf(!installed('zsh'))('zsh, where it is installed', () => {
  test('reads the script', () => {
    expect(asked('zsh', 'zsh -n ./cantilena.zsh', ['-f'])).toEqual([]);
  });

  /** What the branch of a command hands to the shell's own machinery. */
  const specs = (...words: string[]) =>
    asked(
      'zsh',
      `compdef() { :; }; source ./cantilena.zsh; _arguments() { print -rl -- "$@" }; _describe() { print -rl -- "\${commands[@]}" }; _files() { print files }
       words=(cantilena ${words.map((word) => `'${word}'`).join(' ')}); CURRENT=${words.length + 1}; _cantilena`,
      ['-f'],
    );

  test('completes commands with what they do, options, and their values', () => {
    expect(specs('')).toEqual(
      expect.arrayContaining([
        'scales:Ranks the scales that hold the notes of a melody, and says what would decide between them',
        'files',
      ]),
    );
    expect(specs('notes', '')).toEqual(
      expect.arrayContaining([
        '--hand=[reach for the fingering: small, medium (default) or large]:size:(small medium large)',
        '--midi=[write a MIDI file]:file:_files',
        '*:input:_files',
      ]),
    );
    expect(specs('song.m4a', '--')).toContain('--version[print the version]');
    expect(specs('batch', '--')).toContain('*:folder:_files -/');
  });
});

describe.skipIf(!installed('fish'))('fish, where it is installed', () => {
  const offers = (line: string) =>
    asked('fish', `source ./cantilena.fish; complete -C '${line}'`, ['--no-config']).map(
      (offer) => offer.split('\t')[0],
    );

  test('reads the script', () => {
    expect(asked('fish', 'fish --no-execute ./cantilena.fish', ['--no-config'])).toEqual([]);
  });

  test('completes commands, options, values, files and folders', () => {
    expect(offers('cantilena gr')).toEqual(expect.arrayContaining(['grade', 'grow.mid']));
    expect(offers('cantilena transpose --w')).toEqual(['--within']);
    expect(offers('cantilena grow.mid --embed')).toEqual(['--embed-audio']);
    expect(offers('cantilena notes --source ')).toEqual(['auto', 'mix', 'solo']);
    expect(offers('cantilena scales --names=so')).toEqual(['--names=solfège']);
    expect(offers('cantilena notes --midi gr')).toEqual(['grow.mid']);
    expect(offers('cantilena notes --bpm gr')).toEqual([]);
    expect(offers('cantilena batch s')).toEqual(['songs/']);
    expect(offers('cantilena compare --embed')).toEqual([]);
    expect(offers('cantilena completions ')).toEqual(['bash', 'fish', 'zsh']);
  });
});

describe('completions', () => {
  test('takes one shell that it knows', async () => {
    const complaint = (found: string) => ({
      status: 2,
      stdout: '',
      stderr: `cantilena: completions takes the name of one shell, bash, zsh or fish, not ${found}: write it as in cantilena completions bash.\n`,
    });
    expect(await inProcess(['completions'])).toEqual(complaint('nothing'));
    expect(await inProcess(['completions', 'csh'])).toEqual(complaint('csh'));
    expect(await inProcess(['completions', 'bash', 'zsh'])).toEqual(complaint('bash zsh'));
  });
});
