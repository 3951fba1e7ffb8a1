/** Imports go one way (DEVELOPERS.md, "Layout"); this walks them. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const SRC = resolve(import.meta.dirname, '../src');

/** A folder may import from folders of a lower level, from itself, and type files of its own level. */
const LEVEL: Record<string, number> = {
  units: 0,
  errors: 0,
  'system-reason': 0,
  melody: 2,
  dsp: 1,
  theory: 1,
  audio: 2,
  pitch: 2,
  notes: 2,
  rhythm: 2,
  hand: 2,
  write: 2,
  pipeline: 3,
  practice: 4,
  batch: 4,
  cli: 5,
  index: 6,
};

interface Import {
  readonly file: string;
  readonly from: string;
  readonly to: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

function room(path: string): string {
  return (relative(SRC, path).split('/')[0] ?? '').replace(/\.(ts|js)$/, '');
}

function importsOf(file: string): Import[] {
  const text = readFileSync(file, 'utf8');
  const pattern = /(?:import|export)\s+(type\s+)?(?:[^'";]*?\sfrom\s+)?'(\.[^']+)'|import\('(\.[^']+)'\)/g;
  return [...text.matchAll(pattern)].map((m) => {
    const target = resolve(dirname(file), (m[2] ?? m[3]) as string).replace(/\.js$/, '.ts');
    return {
      file: relative(SRC, file),
      from: room(file),
      to: room(target),
      target: relative(SRC, target),
      typeOnly: m[1] !== undefined,
    };
  });
}

function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((e) =>
    e.isDirectory() ? walk(join(folder, e.name)) : e.name.endsWith('.ts') ? [join(folder, e.name)] : [],
  );
}

function allowed(i: Import): boolean {
  if (i.from === i.to) return true;
  const from = LEVEL[i.from];
  const to = LEVEL[i.to];
  if (from === undefined || to === undefined) return false;
  if (to < from) return true;
  return to === from && i.typeOnly && (i.target.endsWith('/types.ts') || i.target === 'melody.ts');
}

describe('layout', () => {
  const imports = walk(SRC).flatMap(importsOf);

  test('imports are found at all', () => {
    expect(imports.length).toBeGreaterThan(5);
  });

  test('imports go one way, and a stage imports only the types of another stage', () => {
    expect(imports.filter((i) => !allowed(i)).map((i) => `${i.file} → ${i.target}`)).toEqual([]);
  });
});
