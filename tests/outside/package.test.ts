/** The package as npm would publish it (npm's own list of its files), for which the program must be compiled. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

interface Packed {
  readonly files: readonly { readonly path: string; readonly mode: number }[];
  readonly size: number;
}

const manifest = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
  bin: Record<string, string>;
  man: string[];
  types: string;
  exports: { '.': { types: string; default: string } };
};

/** Without scripts, so that nothing is built in the middle of other tests. */
function packed(): Packed {
  const { stdout, status } = spawnSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error('npm pack failed');
  return (JSON.parse(stdout) as Packed[])[0]!;
}

function walk(folder: string, ending: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(ending))
    .map((name) => `${folder}/${name}`.replaceAll('\\', '/'));
}

describe.skipIf(!existsSync(join(ROOT, 'dist/index.js')))('the package (needs npm run build)', () => {
  const { files, size } = packed();
  const paths = files.map(({ path }) => path);

  test('holds the program, the library with its types, the manual and the licence', () => {
    const { bin, man, types, exports } = manifest;
    expect(paths).toEqual(
      expect.arrayContaining(
        ['LICENSE', 'README.md', 'package.json', bin.cantilena!, ...man, types, exports['.'].default].map(
          (path) => path.replace(/^\.\//, ''),
        ),
      ),
    );
    expect(exports['.'].types).toBe(`./${types}`);
    expect(files.find(({ path }) => path === bin.cantilena)!.mode & 0o111).not.toBe(0);
  });

  test('holds what every source file was compiled to, and the weights of the networks', () => {
    const compiled = walk('src', '.ts')
      .filter((path) => !path.endsWith('.d.ts') && !path.startsWith('src/write/sheet/page/'))
      .map((path) => path.replace(/^src/, 'dist').replace(/\.ts$/, '.js'));
    const weights = walk('src', '.onnx').map((path) => path.replace(/^src/, 'dist'));
    expect(weights).toHaveLength(3);
    expect([...compiled, ...weights].filter((path) => !paths.includes(path))).toEqual([]);
  });

  test('holds the pages that its pages and help lead to', () => {
    const docs = paths.filter((path) => path.endsWith('.md'));
    const links = docs.flatMap((path) =>
      [
        ...readFileSync(join(ROOT, path), 'utf8')
          .replace(/`[^`]*`/g, '')
          .matchAll(/\]\((?!https?:|#)([^)#]+)/g),
      ].map((link) => join(path, '..', link[1]!)),
    );
    expect(links.length).toBeGreaterThan(20);
    // For those who change the program, who have a clone of it.
    const ofClone = /^(DEVELOPERS\.md|src\/|tests\/|fixtures\/)/;
    expect(links.filter((path) => !paths.includes(path) && !ofClone.test(path))).toEqual([]);
  });

  test('holds no sources, tests, recordings or settings', () => {
    const known = /^(LICENSE|README\.md|package\.json|bin\/|dist\/|docs\/)/;
    expect(paths.filter((path) => !known.test(path))).toEqual([]);
    expect(paths.filter((path) => /\.(wav|m4a|mp3|flac|ogg|opus|py|map)$|\.test\./.test(path))).toEqual([]);
    expect(paths.filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'))).toEqual([]);
    // The weights are the most of it.
    expect(size).toBeLessThan(8e6);
  });
});
