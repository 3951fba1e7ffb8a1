/** A folder for a test, taken away afterwards. */
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

export function makeFolder(files: Readonly<Record<string, string>> = {}) {
  const root = realpathSync(mkdtempSync(join(tmpdir(), 'cantilena-batch-')));
  const at = (name: string) => join(root, name);
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(at(name)), { recursive: true });
    writeFileSync(at(name), content);
  }
  return { root, at, remove: () => rmSync(root, { recursive: true, force: true }) };
}
