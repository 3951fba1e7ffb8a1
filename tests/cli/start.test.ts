/** The program starts with little: what takes long to load waits until it is needed. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { asProcess, BIN, fixture, ROOT } from './run.js';

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

test('names on the command line wait for nothing that hears, engraves or reads files', () => {
  expect([...packagesOf(join(ROOT, 'src/cli/scales.ts'))]).toEqual(['tonal']);
});

/** Notes on standard error the address of every module that a process loads, in packages too. */
const NOTING = asData(`import { register } from 'node:module';
register(${JSON.stringify(
  asData(`import fs from 'node:fs';
export function load(url, context, next) {
  fs.writeSync(2, 'loads ' + url + '\\n');
  return next(url, context);
}`),
)});`);

function asData(code: string): string {
  return `data:text/javascript,${encodeURIComponent(code)}`;
}

/** The packages that the compiled program loads for these arguments. */
function packagesIn(...args: string[]): string[] {
  expect(asProcess(['--version']).status).toBe(0);
  const { status, stderr } = spawnSync(process.execPath, ['--import', NOTING, BIN, ...args], {
    encoding: 'utf8',
  });
  expect(status).toBe(0);
  const names = [...stderr.matchAll(/^loads .*node_modules\/((?:@[^/]+\/)?[^/]+)/gm)].map(
    ([, name]) => name!,
  );
  return [...new Set(names)];
}

test('a process that gives help, or the scales of names, loads no engine, engraver, decoder or schema', () => {
  expect(packagesIn('--help')).toEqual(['commander']);
  const heavy = /onnx|verovio|mediabunny|zod|audio|wav-decoder|mp3|midi|tinypool/;
  expect(packagesIn('scales', 'F', 'G', 'A', 'C', 'D').filter((name) => heavy.test(name))).toEqual([]);
});

test('the hook sees a decoder and the engine where something is heard', () => {
  const seen = packagesIn('notes', fixture('sung-joy.flac'), '--quiet');
  expect(seen).toContain('@wasm-audio-decoders/flac');
  expect(seen).toContain('onnxruntime-node');
});

test('help comes at once', () => {
  // Beside the bare start of Node, taken in turns: other programs may be at work. It is some twice as long.
  const took = (work: () => number | null) => {
    const begun = performance.now();
    expect(work()).toBe(0);
    return performance.now() - begun;
  };
  const ratios = Array.from({ length: 5 }, () => {
    const help = took(() => asProcess(['--help']).status);
    return help / took(() => spawnSync(process.execPath, ['-e', '0']).status);
  }).sort((a, b) => a - b);
  expect(ratios[2]).toBeLessThan(6);
});
