/** The sheet in a real browser, opened from disk as a player opens it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fixture } from '../cli/run.js';
import { CHROMIUM, heard, launch, open, WHY_SKIPPED } from './chromium.js';
import { fourLines, sheetOf } from './sheets.js';

const HOSTILE = '<img src=x onerror="alert(1)"></script><script>alert(2)</script>.wav';

describe.skipIf(CHROMIUM === null)(`a practice sheet in Chromium${WHY_SKIPPED}`, () => {
  const folder = mkdtempSync(join(tmpdir(), 'cantilena-sheet-'));
  const path = join(folder, 'sheet.html');
  const withSound = join(folder, 'with-sound.html');
  let browser: Browser;

  beforeAll(async () => {
    const melody = fourLines();
    const bytes = readFileSync(fixture('piano-joy.opus'));
    writeFileSync(path, await sheetOf(melody, HOSTILE));
    writeFileSync(
      withSound,
      await sheetOf(melody, 'joy', { bytes, mediaType: 'audio/ogg', startSeconds: 0 }),
    );
    browser = await launch();
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  test('opens without a word on the console and without a request, a name from outside shown as text', async () => {
    const { page, complaints } = await open(browser, path);
    expect(await page.textContent('h1')).toBe(HOSTILE);
    expect(await page.title()).toBe(HOSTILE);
    expect(await page.locator('img').count()).toBe(0);
    expect(await page.locator('.line').count()).toBe(4);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('its own policy lets nothing run, load or leave that is not its own', async () => {
    const { page, complaints } = await open(browser, path);
    const failures: (string | undefined)[] = [];
    page.on('requestfailed', (request) => failures.push(request.failure()?.errorText));
    await page.evaluate(async () => {
      document.body.insertAdjacentHTML(
        'beforeend',
        '<img src="https://example.org/x.png" onerror="window.ran=1">',
      );
      const script = document.createElement('script');
      script.textContent = 'window.ran = 1';
      document.body.append(script);
      await fetch('https://example.org/').catch(() => {});
    });
    expect(await page.evaluate('window.ran')).toBeUndefined();
    const refused = complaints.filter((words) => words.includes('Content Security Policy'));
    expect(refused.length).toBeGreaterThanOrEqual(3);
    expect(failures).toEqual(['csp']);
    await page.context().close();
  });

  test('plays a line: sound reaches the loudspeakers, quietly, and the note that sounds is marked', async () => {
    const { page, complaints } = await open(browser, path);
    await page.uncheck('#count-in');
    await page.click('.play[data-line="2"]');
    await page.waitForSelector('#line-2 .now');
    await expect.poll(async () => (await heard(page)).peak).toBeGreaterThan(0.005);
    expect((await heard(page)).peak).toBeLessThan(0.5);
    const before = await heard(page);
    await page.waitForTimeout(200);
    const after = await heard(page);
    expect(after.seconds).toBeGreaterThan(before.seconds);
    await expect.poll(() => page.textContent('#play')).toBe('Stop');
    await page.keyboard.press('Escape');
    await page.click('#play');
    expect(await page.locator('.now').count()).toBe(0);
    await expect.poll(async () => (await heard(page)).peak).toBeLessThan(0.005);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('counts in, and a loop begins again', async () => {
    const { page } = await open(browser, path);
    const marks = () => page.evaluate('window.marks') as Promise<number[]>;
    await page.evaluate(() => {
      const seen: number[] = [];
      Object.assign(window, { marks: seen });
      new MutationObserver(() => {
        const note = Number(document.querySelector<HTMLElement>('.now')?.dataset.n ?? 0);
        if (note !== seen.at(-1)) seen.push(note);
      }).observe(document.body, { subtree: true, attributeFilter: ['class'] });
    });
    await page.fill('#speed', '150');
    await page.check('#loop');
    await page.click('#play');
    // A bar of four clicks comes first.
    await expect.poll(async () => (await heard(page)).peak).toBeGreaterThan(0.005);
    expect(await marks()).toEqual([]);
    const again = (played: readonly number[]) =>
      played.lastIndexOf(1) > played.indexOf(15) && played.includes(15);
    await expect.poll(async () => again(await marks()), { timeout: 20_000 }).toBe(true);
    const first = (await marks()).filter((note) => note > 0);
    expect(first.slice(0, first.indexOf(15) + 1)).toEqual(
      [...first.slice(0, first.indexOf(15) + 1)].sort((x, y) => x - y),
    );
    await expect.poll(() => page.textContent('#play')).toBe('Stop');
    await page.context().close();
  });

  test('plays the recording that is in it', async () => {
    const { page, complaints } = await open(browser, withSound);
    await page.uncheck('#count-in');
    await page.selectOption('#sound', 'recording');
    const played = page.evaluate(
      () =>
        new Promise((resolve) => {
          const play = HTMLMediaElement.prototype.play;
          HTMLMediaElement.prototype.play = function () {
            this.addEventListener('timeupdate', () => this.currentTime > 0.6 && resolve(this.duration));
            return play.call(this);
          };
        }),
    );
    await page.click('#play');
    expect(await played).toBeGreaterThan(5);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('moves to another key: names, fingers, signature and sound follow', async () => {
    const { page, complaints } = await open(browser, path);
    const names = () => page.locator('#line-1 .row .name').allTextContents();
    const sharps = async () =>
      (await page.locator('#line-1 .row').first().innerHTML()).split('#g-E262').length - 1;
    expect((await names()).slice(0, 5)).toEqual(['E', 'E', 'F?', '(F♯4)', 'G']);
    expect(await sharps()).toBe(0);
    await page.selectOption('#key', { label: 'D major, 2 up' });
    await expect.poll(names).toEqual('F♯ F♯ G? (G♯4) A A G F♯ E D D E F♯ F♯ E E'.split(' '));
    expect(await page.textContent('#key-name')).toBe('D major');
    // Two at the clef.
    expect(await sharps()).toBe(2);
    expect(await page.textContent('#scales li:first-child h3')).toContain('D major');
    await page.uncheck('#count-in');
    await page.click('#play');
    await expect.poll(async () => (await heard(page)).peak).toBeGreaterThan(0.005);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  test('ticks survive a reload, and the page says what comes next', async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(`file://${path}`);
    expect(await page.textContent('#next')).toContain('Begin with line 1');
    await page.check('.learnt[data-line="1"]');
    await page.check('.learnt[data-line="2"]');
    await page.reload();
    expect(await page.isChecked('.learnt[data-line="2"]')).toBe(true);
    expect(await page.isChecked('.learnt[data-line="3"]')).toBe(false);
    expect(await page.textContent('#learnt-count')).toBe('2 of 4 lines learnt.');
    expect(await page.textContent('#next')).toContain('line 4. It is like line 2');
    await context.close();
  });

  test('says so where a browser is too old to unpack the keys', async () => {
    const context = await browser.newContext({ viewport: { width: 500, height: 700 } });
    const page = await context.newPage();
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    await page.addInitScript('delete window.DecompressionStream');
    await page.goto(`file://${path}`);
    expect(await page.isVisible('#cannot-play')).toBe(true);
    expect(await page.isDisabled('#play')).toBe(true);
    await page.keyboard.press(' ');
    await page.check('.learnt[data-line="1"]');
    expect(await page.textContent('#learnt-count')).toBe('1 of 4 lines learnt.');
    expect(errors).toEqual([]);
    await context.close();
  });

  test('is worked with the keyboard', async () => {
    const { page } = await open(browser, path);
    await page.keyboard.press('ArrowRight');
    expect(await page.inputValue('#line')).toBe('2');
    // Sound starts once the browser lets it, a moment after the key.
    await page.keyboard.press(' ');
    await expect.poll(() => page.textContent('#play')).toBe('Stop');
    await page.keyboard.press(' ');
    await expect.poll(() => page.textContent('#play')).toBe('Play');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    expect(await page.inputValue('#line')).toBe('0');
    await page.context().close();
  });

  test('leads the focus through the controls in the order they are read', async () => {
    const { page } = await open(browser, path);
    const order: unknown[] = [];
    for (let i = 0; i < 8; i++) {
      await page.keyboard.press('Tab');
      order.push(await page.evaluate('document.activeElement.id'));
    }
    expect(order).toEqual(['play', 'line', 'speed', 'loop', 'count-in', 'volume', 'key', 'names']);
    await page.context().close();
  });

  test.each([1000, 360])('%i pixels wide, no finger and no name touches another or a note', async (width) => {
    const { page } = await open(browser, path, { viewport: { width, height: 800 } });
    await page.waitForFunction(() => {
      const [first] = document.querySelectorAll('.row');
      return first!.getBoundingClientRect().right <= innerWidth;
    });
    const { words, touching } = await page.evaluate(() => {
      // A letter fills about the middle half of the height of its line.
      const inner = (box: DOMRect) => new DOMRect(box.x, box.y + box.height / 4, box.width, box.height / 2);
      const meet = (a: DOMRect, b: DOMRect) =>
        a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
      const rows = [...document.querySelectorAll('.row')].map((row) => ({
        texts: [...row.querySelectorAll('text')].map((text) => ({
          name: text.textContent,
          box: inner(text.getBoundingClientRect()),
        })),
        marks: [...row.querySelectorAll('[data-n] use, [data-n] path, polygon')].map((mark) => ({
          name: mark.outerHTML,
          box: mark.getBoundingClientRect(),
        })),
      }));
      return {
        words: rows.flatMap(({ texts }) => texts).length,
        touching: rows.flatMap(({ texts, marks }) =>
          texts.flatMap((text, i) =>
            [...texts.slice(i + 1), ...marks]
              .filter(({ box }) => meet(text.box, box))
              .map(({ name }) => [text.name, name]),
          ),
        ),
      };
    });
    // Sixty-two notes with a finger and a name each, and one in brackets.
    expect(words).toBe(2 * 62 + 1);
    expect(touching).toEqual([]);
    await page.context().close();
  });

  test('prints in black, eight lines a page at most', async () => {
    const { page } = await open(browser, path, { colorScheme: 'dark' });
    const pdf = await page.pdf({ format: 'A4' });
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    await page.emulateMedia({ media: 'print' });
    expect(await page.evaluate(() => getComputedStyle(document.body).color)).toBe('rgb(0, 0, 0)');
    expect(await page.isVisible('.controls')).toBe(false);
    // 297 mm of A4 less two margins of 14 mm hold eight blocks of 32 mm, and no ninth.
    const heights = await page
      .locator('.line')
      .evaluateAll((lines) => lines.map((line) => line.clientHeight));
    const millimetre = 96 / 25.4;
    for (const height of heights) expect(9 * height).toBeGreaterThan((297 - 28) * millimetre);
    await page.context().close();
  });

  test.each([
    ['a desk', { viewport: { width: 1100, height: 800 } }],
    ['a phone', { viewport: { width: 360, height: 740 } }],
    ['twice the size', { viewport: { width: 640, height: 400 }, deviceScaleFactor: 2 }],
    ['the dark', { viewport: { width: 900, height: 700 }, colorScheme: 'dark' as const }],
  ])('on %s: nothing stands out sideways, and axe finds no fault', async (_where, options) => {
    const { page, complaints } = await open(browser, path, options);
    await page.waitForFunction(() => {
      const [room, rows] = [
        document.querySelector('.staff')!.clientWidth,
        [...document.querySelectorAll('.row')],
      ];
      return rows.every((row) => row.getBoundingClientRect().width <= room + 1);
    });
    const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    expect(wide).toBeLessThanOrEqual(room!);
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    await page.evaluate(readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    const found = (await page.evaluate('axe.run()')) as {
      violations: { id: string; nodes: { html: string }[] }[];
      passes: unknown[];
    };
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 200)}`)).toEqual([]);
    expect(found.passes.length).toBeGreaterThan(10);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
