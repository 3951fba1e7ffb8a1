/** Lines of shell with the program in them, run with the program in this process: what they print on a terminal. */
import { spawnSync } from 'node:child_process';
import * as nodeFs from 'node:fs';
import { Readable, Writable } from 'node:stream';
import { main } from '../../src/cli/main.js';
import { shellWords } from './shell-words.js';

const ESCAPE = String.fromCharCode(27);

/** What a part of a line writes into a pipe, and what it prints on the terminal. */
interface Written {
  readonly out: string;
  readonly terminal: string;
}

/** Runs bash, in the folder of this process; throws where it ends with another status than 0. */
function bash(line: string, stdin: string): string {
  const { status, stdout, stderr } = spawnSync('bash', ['-o', 'pipefail', '-c', line], {
    input: stdin,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`${line} ended with status ${status}: ${stderr}`);
  return stdout;
}

/** Runs the program; its output is the terminal unless it goes into a pipe or a file. */
async function program(line: string, stdin: string, columns: number, isPiped: boolean): Promise<Written> {
  const words = shellWords(line).slice(1);
  const arrow = words.indexOf('>');
  const file = arrow < 0 ? null : words[arrow + 1]!;
  const argv = arrow < 0 ? words : words.slice(0, arrow);
  const [out, terminal]: [string[], string[]] = [[], []];
  const into = (parts: string[], isTTY: boolean) =>
    Object.assign(
      new Writable({
        write(part: Buffer, _encoding, done) {
          parts.push(part.toString('utf8'));
          done();
        },
      }),
      isTTY ? { isTTY, columns } : {},
    );
  const stdout = isPiped || file !== null ? into(out, false) : into(terminal, true);
  const streams = { stdin: Readable.from([Buffer.from(stdin)]), stdout, stderr: into(terminal, true) };
  const status = await main({ argv, env: { NO_COLOR: '1' }, streams, fs: nodeFs });
  if (status !== 0) throw new Error(`${line} ended with status ${status}: ${terminal.join('')}`);
  if (file !== null && file !== '/dev/null') nodeFs.writeFileSync(file, out.join(''));
  return { out: file === null ? out.join('') : '', terminal: terminal.join('') };
}

/** The line cut at a sign of the shell that stands outside quotes. */
function cutAt(sign: '|' | ';', line: string): string[] {
  const parts = line.match(new RegExp(`(?:'[^']*'|"[^"]*"|[^'"${sign}])+`, 'g'));
  return (parts ?? []).map((part) => part.trim());
}

/** What is seen of a terminal in the end: without words that were wiped away. */
function seen(text: string): string[] {
  return text
    .replace(new RegExp(`[^\\n]*\\r${ESCAPE}\\[K`, 'g'), '')
    .trimEnd()
    .split('\n')
    .map((line) => line.trimEnd());
}

/** @param line commands with `;` between them, each one pipe in which `cantilena` comes once at most */
export async function printedBy(line: string, columns: number): Promise<string[]> {
  let terminal = '';
  for (const command of cutAt(';', line)) {
    const stages = cutAt('|', command);
    const own = stages.findIndex((stage) => stage.startsWith('cantilena '));
    if (own < 0) {
      terminal += bash(command, '');
      continue;
    }
    const before = stages.slice(0, own);
    const after = stages.slice(own + 1);
    const stdin = before.length === 0 ? '' : bash(before.join(' | '), '');
    const written = await program(stages[own]!, stdin, columns, after.length > 0);
    terminal += written.terminal + (after.length === 0 ? '' : bash(after.join(' | '), written.out));
  }
  return seen(terminal);
}
