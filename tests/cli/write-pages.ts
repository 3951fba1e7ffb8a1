/**
 * Runs the commands that docs/guide.md and docs/recipes.md show, each page in a folder of its own, and writes what they
 * print under them: npm run pages. In an indented block a line that begins with $ is a command; what follows, up to the
 * next one, is what it prints on a terminal of 76 columns. Needs a build, and script(1) of util-linux for the terminal.
 */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');
const INDENT = '    ';
const ESCAPE = String.fromCharCode(27);

/** What a command prints; throws where it ends with another status than 0. */
function printed(command: string, folder: string): string[] {
  const line = `stty cols 76; ${command}`;
  const { status, stdout } = spawnSync(
    'script',
    ['-qec', `bash -o pipefail -c ${quoted(line)}`, '/dev/null'],
    {
      cwd: folder,
      encoding: 'utf8',
      env: {
        ...process.env,
        PATH: `${join(folder, '.bin')}:${process.env.PATH}`,
        NO_COLOR: '1',
        npm_config_update_notifier: 'false',
      },
    },
  );
  if (status !== 0) throw new Error(`${command} ended with status ${status}:\n${stdout}`);
  return (
    stdout
      .replaceAll('\r\n', '\n')
      // A word that stood only while work went on, and colours of programs that do not know NO_COLOR.
      .replace(new RegExp(`[^\\n]*\\r${ESCAPE}\\[K`, 'g'), '')
      .replace(new RegExp(`${ESCAPE}\\[[\\d;]*m`, 'g'), '')
      .trimEnd()
      .split('\n')
      .map((text) => text.trimEnd())
  );
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}

/** The page with what its commands print. */
function filled(page: string, folder: string): string {
  const out: string[] = [];
  let skipping = false;
  for (const line of page.split('\n')) {
    if (line.startsWith(`${INDENT}$ `)) {
      skipping = true;
      const lines = printed(line.slice(INDENT.length + 2), folder);
      const shown = lines.join('') === '' ? [] : lines;
      out.push(line, ...shown.map((text) => (text === '' ? '' : `${INDENT}${text}`)));
    } else if (skipping && (line.startsWith(INDENT) || line === '')) {
      // Blank lines are of the output while more of it follows; the one that ends the block is put back below.
    } else {
      if (skipping) out.push('');
      skipping = false;
      out.push(line);
    }
  }
  return `${out.join('\n').trimEnd()}\n`;
}

for (const name of process.argv.length > 2 ? process.argv.slice(2) : ['guide', 'recipes']) {
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-page-'));
  mkdirSync(join(folder, '.bin'));
  symlinkSync(join(ROOT, 'fixtures'), join(folder, 'fixtures'));
  const program = join(folder, '.bin/cantilena');
  writeFileSync(program, `#!/bin/sh\nexec ${process.execPath} ${join(ROOT, 'bin/cantilena.js')} "$@"\n`);
  chmodSync(program, 0o755);
  const path = join(ROOT, `docs/${name}.md`);
  try {
    writeFileSync(path, filled(readFileSync(path, 'utf8'), folder));
  } finally {
    rmSync(folder, { recursive: true });
  }
}
