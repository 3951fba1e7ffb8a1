/** Writes src/write/sheet/page-script.ts: run it with `npm run page-script` after a change in src/write/sheet/page/. */
import { writeFileSync } from 'node:fs';
import { pageScriptModule } from './bundle.js';

writeFileSync(new URL('../../src/write/sheet/page-script.ts', import.meta.url), await pageScriptModule());
