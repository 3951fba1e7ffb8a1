import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { pageScriptModule } from './bundle.js';

test('the script in the page is what its sources make (npm run page-script writes it)', async () => {
  const kept = readFileSync(new URL('../../src/write/sheet/page-script.ts', import.meta.url), 'utf8');
  expect(kept === (await pageScriptModule())).toBe(true);
});
