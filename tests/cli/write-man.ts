/** Writes docs/cantilena.1 anew: npm run man. */
import { readFileSync, writeFileSync } from 'node:fs';
import { manPage } from '../../src/cli/man.js';

const at = (path: string) => new URL(`../../${path}`, import.meta.url);
const { version } = JSON.parse(readFileSync(at('package.json'), 'utf8')) as { version: string };
writeFileSync(at('docs/cantilena.1'), manPage(version));
