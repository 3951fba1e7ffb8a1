/** Puts the page's script together from its sources: what src/write/sheet/page-script.ts has to hold. */
import { resolve } from 'node:path';
import { build } from 'esbuild';

const PAGE = resolve(import.meta.dirname, '../../src/write/sheet/page');

/** The script as one function that leaves no names behind. It can be read, but has no comments. */
async function pageScript(): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [resolve(PAGE, 'main.ts')],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'es2022',
    charset: 'utf8',
    legalComments: 'none',
  });
  const text = outputFiles[0]!.text.replace(/^\s*\/\/ src\/.*\n/gm, '');
  if (/<\/script|<!--/i.test(text)) throw new Error('the script would end its own element');
  return text;
}

/** The module that holds the script, as the formatter leaves it. */
export async function pageScriptModule(): Promise<string> {
  const escaped = (await pageScript()).replace(/[\\`]|\$\{/g, '\\$&');
  return `/** The script of the practice sheet, put together from page/ by \`npm run page-script\`: change it there. */
export const PAGE_SCRIPT = \`${escaped}\`;
`;
}
