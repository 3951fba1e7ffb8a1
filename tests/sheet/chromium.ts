/** A browser for the tests of the sheet; none where Debian's `chromium` (or the path in CHROMIUM) is not there. */
import { existsSync } from 'node:fs';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

const PATHS = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser'];

export const CHROMIUM = PATHS.find((path) => path !== undefined && existsSync(path)) ?? null;

/** What is added to the names of tests that are skipped. */
export const WHY_SKIPPED = CHROMIUM === null ? ' (skipped: install chromium, or set CHROMIUM to it)' : '';

export function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: CHROMIUM!, args: ['--no-sandbox', '--mute-audio'] });
}

/** A page from disk, and all that it said and asked for on the way. */
export interface Opened {
  readonly page: Page;
  /** Messages on the console, errors, and requests for anything but the file itself and its own blobs. */
  readonly complaints: string[];
}

/** Listens to what goes to the loudspeakers: `window.heard()` gives the loudest sample of the last moments, 0..1. */
const EAR = `
  const connect = AudioNode.prototype.connect;
  let ear = null;
  AudioNode.prototype.connect = function (to, ...more) {
    if (to instanceof AudioDestinationNode) {
      ear = new AnalyserNode(this.context, { fftSize: 32768 });
      connect.call(this, ear);
    }
    return connect.call(this, to, ...more);
  };
  window.heard = () => {
    if (ear === null) return { peak: 0, seconds: 0 };
    const samples = new Float32Array(ear.fftSize);
    ear.getFloatTimeDomainData(samples);
    return { peak: samples.reduce((most, s) => Math.max(most, Math.abs(s)), 0), seconds: ear.context.currentTime };
  };
`;

export async function open(
  browser: Browser,
  path: string,
  options: BrowserContextOptions = {},
): Promise<Opened> {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`));
  page.on('dialog', async (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    await dialog.dismiss();
  });
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith('file:') && !url.startsWith('blob:') && !url.startsWith('data:')) {
      complaints.push(`request: ${url}`);
    }
    if (url.startsWith('file:') && !url.startsWith(`file://${encodeURI(path)}`))
      complaints.push(`request: ${url}`);
  });
  await page.addInitScript(EAR);
  await page.goto(`file://${encodeURI(path)}`);
  await page.waitForSelector('html.ready');
  return { page, complaints };
}

/** The loudest sample that was sounded of late, and the clock of the sound. */
export function heard(page: Page): Promise<{ peak: number; seconds: number }> {
  return page.evaluate('window.heard()');
}
