#!/usr/bin/env node
import * as fs from 'node:fs';
// Starts the compiled program and sets the exit status, nothing else.
import { existsSync } from 'node:fs';

const compiled = new URL('../dist/cli/main.js', import.meta.url);
if (existsSync(compiled)) {
  const { main } = await import(compiled.href);
  const { stdin, stdout, stderr } = process;
  process.exitCode = await main({
    argv: process.argv.slice(2),
    env: process.env,
    streams: { stdin, stdout, stderr },
    fs,
    onInterrupt: (stop) => {
      process.on('SIGINT', stop);
      return () => process.off('SIGINT', stop);
    },
  });
} else {
  process.stderr.write(
    'cantilena: the program is not compiled yet: run `npm install` and `npm run build` in its folder first.\n',
  );
  process.exitCode = 2;
}
