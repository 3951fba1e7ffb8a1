/** The picture of a sheet in the README: the top of the page, as a browser shows it. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inEveryKey } from '../../src/pipeline/sheet-keys.js';
import { sheetHtml } from '../../src/write/sheet/document.js';
import { startEngraver } from '../../src/write/sheet/engrave.js';
import { launch, open } from '../sheet/chromium.js';
import { RECORDED, type Sound } from './sounds.js';

/** CSS pixels; every one of them is one and a half of the picture's. */
const VIEW = { width: 860, height: 760 };
const SCALE = 1.5;

/** @returns PNG. Needs Chromium; its bytes differ from one version, and set of fonts, to another. */
export async function sheetPicture({ melody, track }: Sound): Promise<Uint8Array> {
  const title = RECORDED.grace.replace(/\.\w+$/, '');
  const page = {
    title,
    melody,
    keys: inEveryKey(melody, 'medium'),
    names: 'english',
    track,
    sound: null,
  } as const;
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-sheet-'));
  const browser = await launch();
  try {
    const path = join(folder, 'sheet.html');
    writeFileSync(path, sheetHtml(page, await startEngraver()));
    const opened = await open(browser, path, { viewport: VIEW, deviceScaleFactor: SCALE });
    return await opened.page.screenshot();
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true });
  }
}
