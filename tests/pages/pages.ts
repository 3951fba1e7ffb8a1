/** The pages of the project, and the examples in them. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

export const ROOT = resolve(import.meta.dirname, '../..');
export const PAGES = [
  'README.md',
  'DEVELOPERS.md',
  ...['docs', 'fixtures', 'src', 'tests'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.md'))
      .map((name) => `${folder}/${name.replaceAll('\\', '/')}`),
  ),
];

export const read = (path: string) => readFileSync(join(ROOT, path), 'utf8');

/** Lines of examples: indented by four, not in a list, or between fences. */
export function exampleLines(page: string): string[] {
  let fenced = false;
  const lines = page.split('\n');
  return lines.flatMap((line) => {
    if (line.startsWith('```')) fenced = !fenced;
    else if (fenced) return [line];
    else if (/^ {4}\S/.test(line)) return [line.slice(4)];
    return [];
  });
}
