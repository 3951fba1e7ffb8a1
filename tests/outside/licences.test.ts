/** The licences of what is installed, and docs/dependencies.md, which says them. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
const PAGE = readFileSync(join(ROOT, 'docs/dependencies.md'), 'utf8');

interface Manifest {
  readonly version: string;
  readonly license?: string;
}

const json = (path: string) => JSON.parse(readFileSync(join(ROOT, path), 'utf8')) as unknown;
const manifestOf = (folder: string) => json(`${folder}/package.json`) as Manifest;
const { dependencies, devDependencies } = json('package.json') as Record<
  'dependencies' | 'devDependencies',
  Record<string, string>
>;
const locked = (json('package-lock.json') as { packages: Record<string, { dev?: boolean }> }).packages;
/** Folders of what comes with the package, by the lock file. */
const BROUGHT = Object.keys(locked).filter((folder) => folder !== '' && !locked[folder]!.dev);

/**
 * What may be combined with AGPL-3.0-or-later: by the list of the Free Software Foundation
 * (gnu.org/licenses/license-list.html, from memory). GPL-2.0 alone may not: see the one that is excepted.
 */
const COMPATIBLE = [
  '(MIT OR CC0-1.0)',
  'Apache-2.0',
  'BSD-3-Clause',
  'ISC',
  'LGPL-3.0-or-later',
  'MIT',
  'MPL-2.0',
];
/** Its package file says GPL-2.0; FAAD2, which it compiles, says version 2 or any later one in its sources. */
const EXCEPTED = 'node_modules/@audio/decode-aac';

/** Columns of the row of a table that begins with these words. */
const row = (first: string): string[] | undefined =>
  PAGE.split('\n')
    .map((line) => line.split('|').map((cell) => cell.trim()))
    .find(([, cell]) => cell === first);

describe('licences', () => {
  test('of all that comes with the package may be combined with its own', () => {
    const others = BROUGHT.filter((folder) => !COMPATIBLE.includes(manifestOf(folder).license ?? 'none'));
    expect(others).toEqual([EXCEPTED]);
    expect(manifestOf(EXCEPTED).license).toBe('GPL-2.0');
  });

  test('other than MIT are told, package by package', () => {
    const told = PAGE.slice(PAGE.indexOf('## Licences'));
    expect(told).toContain(`The package brings ${BROUGHT.length} others`);
    for (const folder of BROUGHT) {
      const { license } = manifestOf(folder);
      if (license === 'MIT' || license?.includes(' OR ')) continue;
      const line = told.split('\n').find((text) => text.includes(folder.replace('node_modules/', '')));
      expect(line, folder).toContain(license);
    }
  });

  test('of each dependency stand with its version', () => {
    for (const [name, version] of Object.entries(dependencies)) {
      expect(manifestOf(`node_modules/${name}`).version).toBe(version);
      if (/^@audio\/decode-(mp3|flac|vorbis|opus)$/.test(name)) {
        expect(PAGE).toContain(`${name.replace(/^@audio\/decode(?!-mp3)/, '')} ${version}`);
      } else {
        expect(row(`${name} ${version}`)?.[2], name).toContain(manifestOf(`node_modules/${name}`).license);
      }
    }
  });

  test('of what is for development: essentia.js alone binds, and is not brought', () => {
    expect(BROUGHT).not.toContain('node_modules/essentia.js');
    const bound = Object.keys(devDependencies).filter((name) =>
      manifestOf(`node_modules/${name}`).license?.includes('GPL'),
    );
    expect(bound).toEqual(['essentia.js']);
    expect(PAGE).toContain(`essentia.js ${devDependencies['essentia.js']} (AGPL-3.0)`);
  });
});
