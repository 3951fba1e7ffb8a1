/** The program starts with little: what takes long to load waits until it is needed. */
import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { asProcess, ROOT } from './run.js';

/** Modules that a file loads at once, types and `import()` left out. */
function loadedBy(file: string): string[] {
  const text = readFileSync(file, 'utf8');
  const imports = text.matchAll(/^(?:import|export) (?!type\b)(?:[^;']*? from )?'([^']+)'/gms);
  return [...imports].map((match) => match[1]!);
}

/** Packages that are loaded with a file and with all that it loads. */
function packagesOf(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return new Set();
  seen.add(file);
  return new Set(
    loadedBy(file).flatMap((name) =>
      name.startsWith('.')
        ? [...packagesOf(resolve(dirname(file), name.replace(/\.js$/, '.ts')), seen)]
        : name.startsWith('node:')
          ? []
          : [name],
    ),
  );
}

test('only the parser of options is loaded before the command is known', () => {
  expect([...packagesOf(join(ROOT, 'src/cli/main.ts'))]).toEqual(['commander']);
});

test('the walk sees what a command loads', () => {
  expect(packagesOf(join(ROOT, 'src/cli/notes.ts'))).toContain('tonal');
});

test('help comes at once', () => {
  // The median is 0.15 s where nothing else runs; the bound is loose, because other tests run beside this one.
  const seconds = Array.from({ length: 5 }, () => {
    const begun = performance.now();
    expect(asProcess(['--help']).status).toBe(0);
    return (performance.now() - begun) / 1000;
  }).sort((a, b) => a - b);
  expect(seconds[2]).toBeLessThan(0.6);
});
